/**
 * A table on its way into a form: pasted or loaded, matched, filled in.
 *
 * Its controls belong to the form, so that all works without a script. But a table may be
 * large and is no reading: while somebody types, it stays out of what the form sends and
 * of the draft, and only its own buttons send it along.
 */

type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;

/** Keep the tables inside `root` out of their forms until one of their buttons is pressed. */
export function watchTables(root: HTMLElement): void {
  const parts = [...root.querySelectorAll<HTMLElement>("[data-bring-in]")];
  const around = root.closest<HTMLElement>("[data-bring-in]");
  for (const part of around ? [around, ...parts] : parts) {
    keepOut(part);
    if (!part.dataset.watched) {
      part.dataset.watched = "yes";
      watch(part);
    }
  }
}

function controls(part: HTMLElement): Control[] {
  return [...part.querySelectorAll<Control>("input, select, textarea")];
}

/** Take the names off: what has no name is not sent. */
function keepOut(part: HTMLElement): void {
  for (const control of controls(part)) {
    if (control.name) {
      control.dataset.name = control.name;
      control.removeAttribute("name");
    }
  }
}

function letIn(part: HTMLElement): void {
  for (const control of controls(part)) {
    if (control.dataset.name) {
      control.name = control.dataset.name;
    }
  }
}

function watch(part: HTMLElement): void {
  part.addEventListener(
    "click",
    (event) => {
      if (event.target instanceof Element && event.target.closest("button")) {
        letIn(part);
      }
    },
    { capture: true },
  );
  part.addEventListener("htmx:afterRequest", () => keepOut(part));
  for (const kind of ["input", "change"]) {
    part.addEventListener(kind, (event) => {
      event.stopPropagation(); // nothing of it is a reading yet
      if (kind === "change" && event.target instanceof HTMLSelectElement) {
        part.querySelector<HTMLButtonElement>("[data-look-again]")?.click();
      }
    });
  }
}
