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
