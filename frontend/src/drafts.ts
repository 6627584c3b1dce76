/**
 * Keep what is typed into a form on the device until it has been saved.
 *
 * A form with `data-draft` names its draft; when the form comes up with other values than
 * were last typed, its part marked `data-draft-offer` appears and offers them back.
 */

const PREFIX = "rooftree-draft:";

export type Entries = [string, string][];

/** What lays out a form again with these entries. */
export type Take = (form: HTMLFormElement, draft: Entries) => void;

/** Watch every form inside `root` that keeps a draft. */
export function watchDrafts(root: HTMLElement, take: Take): void {
  const forms = [...root.querySelectorAll<HTMLFormElement>("form[data-draft]")];
  if (root instanceof HTMLFormElement && root.dataset.draft) {
    forms.push(root);
  }
  for (const form of forms) {
    watch(form, take);
  }
}

/** Return what the form holds, files left out. */
export function entriesOf(form: HTMLFormElement): Entries {
  return [...new FormData(form)].filter((pair): pair is [string, string] => {
    return typeof pair[1] === "string";
  });
}

/** Return the draft under this key, or nothing where there is none or it cannot be read. */
export function storedDraft(key: string): Entries | null {
  try {
    const found: unknown = JSON.parse(localStorage.getItem(PREFIX + key) ?? "null");
    return Array.isArray(found) ? (found as Entries) : null;
  } catch {
    return null;
  }
}

/** Forget the draft under this key. */
export function forgetDraft(key: string): void {
  localStorage.removeItem(PREFIX + key);
}

function watch(form: HTMLFormElement, take: Take): void {
  const key = form.dataset.draft ?? "";
  const keep = (): void => {
    localStorage.setItem(PREFIX + key, JSON.stringify(entriesOf(form)));
  };
  form.addEventListener("input", keep);
  // What came back unsaved may have been typed before this script was there to see it.
  if (form.hasAttribute("data-unsaved")) {
    keep();
  }
  const draft = storedDraft(key);
  if (!draft) {
    return;
  }
  if (sameEntries(draft, entriesOf(form))) {
    if (!form.hasAttribute("data-unsaved")) {
      localStorage.removeItem(PREFIX + key);
    }
    return;
  }
  offer(form, key, () => take(form, draft));
}

/** Compare what was typed; which button was pressed or how many empty rows there are is not. */
export function sameEntries(one: Entries, other: Entries): boolean {
  const told = (entries: Entries): string =>
    JSON.stringify(entries.filter(([, value]) => value.trim() !== "").sort());
  return told(one) === told(other);
}

function offer(form: HTMLFormElement, key: string, take: () => void): void {
  const part = form.querySelector<HTMLElement>("[data-draft-offer]");
  if (!part) {
    return;
  }
  part.hidden = false;
  part.querySelector("[data-draft-take]")?.addEventListener("click", take);
  part.querySelector("[data-draft-drop]")?.addEventListener("click", () => {
    localStorage.removeItem(PREFIX + key);
    part.hidden = true;
  });
}
