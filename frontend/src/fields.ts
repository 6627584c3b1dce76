/**
 * What fields of readings do beyond typing: a sign where a phone's digits have none, and
 * the unit of each kind of quantity remembered from one test to the next.
 */

const PREFIX = "rooftree-unit:";

/** Give every signed field inside `root` a button that turns its sign. */
export function addSigns(root: HTMLElement): void {
  for (const field of root.querySelectorAll<HTMLInputElement>("input[data-signed]")) {
    const shell = document.createElement("span");
    shell.className = "with-sign";
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = "±";
    button.setAttribute("aria-label", "Turn the sign");
    button.addEventListener("click", () => {
      field.value = turned(field.value);
      field.dispatchEvent(new Event("input", { bubbles: true }));
    });
    field.replaceWith(shell);
    shell.append(button, field);
    field.removeAttribute("data-signed");
  }
}

/** Return what was typed with its sign turned. */
export function turned(text: string): string {
  const bare = text.trimStart();
  return /^[-−]/.test(bare) ? bare.slice(1).trimStart() : `-${bare.replace(/^\+/, "")}`;
}

/** Enter in a row of readings goes on to the next row; elsewhere it saves, as in any form. */
export function goOnWithEnter(root: HTMLElement): void {
  for (const table of root.querySelectorAll<HTMLTableElement>(".entry-rows, .stations")) {
    table.addEventListener("keydown", (event) => {
      const field = event.target;
      if (event.key !== "Enter" || event.isComposing || !(field instanceof HTMLInputElement)) {
        return;
      }
      event.preventDefault();
      const next = nextRow(field.closest("tr"));
      if (next) {
        next.querySelector<HTMLElement>("td :is(input, select)")?.focus();
      } else {
        table.closest("fieldset")?.querySelector<HTMLElement>("button[name=add]")?.click();
      }
    });
  }
}

/** Return the row after this one that can be seen. */
function nextRow(row: Element | null): Element | null {
  let next = row?.nextElementSibling ?? null;
  while (next && getComputedStyle(next).display === "none") {
    next = next.nextElementSibling;
  }
  return next;
}

/** Return the names of the parts inside `root` that somebody has opened. */
export function openParts(root: Element): string[] {
  return [...root.querySelectorAll<HTMLDetailsElement>("details[id][open]")].map(({ id }) => id);
}

/** Open the parts of these names inside `root` that are shut. */
export function openAgain(root: Element, names: readonly string[]): void {
  for (const part of root.querySelectorAll<HTMLDetailsElement>("details[id]:not([open])")) {
    part.open = names.includes(part.id);
  }
}

/** Choose in every new form inside `root` the units that were chosen last, and note new ones. */
export function rememberUnits(root: HTMLElement): void {
  for (const choice of root.querySelectorAll<HTMLSelectElement>("[data-units] select")) {
    const last = localStorage.getItem(PREFIX + choice.name);
    const offered = [...choice.options].some((option) => option.value === last);
    if (last && offered && choice.closest("form")?.dataset.unitsChosen === undefined) {
      choice.value = last;
    }
    choice.addEventListener("change", () => {
      localStorage.setItem(PREFIX + choice.name, choice.value);
    });
  }
}
