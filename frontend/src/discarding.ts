/** Leaving a form on purpose: what was typed into it is not offered again. */

import { forgetDraft } from "./drafts";

/** Let every link inside `root` that discards a form forget its draft too. */
export function watchDiscarding(root: HTMLElement): void {
  for (const link of root.querySelectorAll<HTMLAnchorElement>("a[data-discard]")) {
    link.addEventListener("click", () => {
      const key = link.closest<HTMLFormElement>("form[data-draft]")?.dataset.draft;
      if (key) {
        forgetDraft(key);
      }
    });
  }
}
