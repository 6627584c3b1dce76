/**
 * Take what a logger shows into a form.
 *
 * The page asks every second what a stream shows; a press puts the mean of its window into
 * the next free row of a list, or into a field.
 */

interface IntoRow {
  list: string;
  cells: Record<string, string>;
  clock?: string;
}

interface IntoField {
  path: string;
  reading: string;
}

export type Target = IntoRow | IntoField;

/** Watch the part of each page inside `root` that listens to a logger. */
export function watchListening(root: HTMLElement): void {
  for (const part of root.querySelectorAll<HTMLDetailsElement>("details[data-listen]")) {
    part.addEventListener("htmx:beforeRequest", (event) => {
      // Opening asks for the loggers; closing stops asking.
      if (event.target === part && !part.open) {
        event.preventDefault();
        part.querySelector(".place")?.replaceChildren();
      }
    });
  }
  for (const button of root.querySelectorAll<HTMLButtonElement>("[data-live-take]")) {
    button.addEventListener("click", () => takeReading(document));
  }
}

/** Return the mean that a reading shows; empty where it shows none. */
function shown(root: ParentNode, reading: string): { mean: string; settled: boolean } {
  const places = [...root.querySelectorAll<HTMLElement>("[data-reading]")];
  const place = places.find((one) => one.dataset.reading === reading);
  return { mean: place?.dataset.mean ?? "", settled: place?.dataset.settling === "settled" };
}

/** Put the readings into the chosen row or field, and say what was done. */
export function takeReading(root: ParentNode): void {
  const choice = root.querySelector<HTMLSelectElement>("[data-live-target]");
  const form = root.querySelector<HTMLFormElement>("form[data-again]");
  if (!choice || !form) {
    return;
  }
  const target = JSON.parse(choice.value) as Target;
  const said = "list" in target ? intoRow(root, form, target) : intoField(root, form, target);
  const place = root.querySelector<HTMLElement>("[data-live-said]");
  place?.replaceChildren(...said);
  if (!("list" in target) && choice.selectedIndex + 1 < choice.options.length) {
    choice.selectedIndex += 1;
  }
}

const NOTHING = "Nothing to take: the logger has sent nothing in this time.";

function intoRow(root: ParentNode, form: HTMLFormElement, target: IntoRow): (string | Node)[] {
  const readings = Object.entries(target.cells).map(([name, reading]) => ({
    name,
    ...shown(root, reading),
  }));
  if (readings.every((one) => !one.mean)) {
    return [NOTHING];
  }
  const row = freeRow(form, target);
  if (row < 0) {
    return ["There is no free row: add one, then take the reading again."];
  }
  const filled = readings.filter((one) => one.mean);
  for (const one of filled) {
    fill(field(form, pathOf(target.list, row, one.name)), one.mean);
  }
  const timed = fillTime(root, form, target, row);
  addRowIfLast(form, target, row);
  const means = filled.map((one) => one.mean).join(", ");
  const doubt = filled.every((one) => one.settled) ? "" : " It had not settled.";
  return [`Row ${row + 1}: ${means}.${doubt}${timed}`];
}

/** When the first row of each list was taken, by the logger's clock [ms]. */
const starts = new Map<string, number>();

/** Fill in when a row was read, counted from the first row that was taken. */
function fillTime(root: ParentNode, form: HTMLFormElement, target: IntoRow, row: number): string {
  const shownAt = root.querySelector<HTMLElement>("[data-time]")?.dataset.time ?? "";
  const now = Date.parse(shownAt);
  if (target.clock === undefined || Number.isNaN(now)) {
    return "";
  }
  const into = field(form, pathOf(target.list, row, target.clock));
  const key = `${form.dataset.again}/${target.list}`;
  if (row === 0) {
    starts.set(key, now);
  }
  const start = starts.get(key);
  if (!into || into.value.trim()) {
    return "";
  }
  if (start === undefined) {
    return " Type when it was read: the first row was not taken here.";
  }
  fill(into, `${Math.round((now - start) / 100) / 10} s`);
  return ` After ${into.value}.`;
}

function intoField(root: ParentNode, form: HTMLFormElement, target: IntoField): (string | Node)[] {
  const { mean, settled } = shown(root, target.reading);
  const into = field(form, target.path);
  if (!mean || !into) {
    return [mean ? "This field is not on the page now." : NOTHING];
  }
  const before = into.value;
  fill(into, mean);
  const label = into.labels?.[0]?.textContent?.trim() ?? "Taken";
  const says = `${label}: ${mean}.${settled ? "" : " It had not settled."} `;
  if (!before.trim()) {
    return [says];
  }
  const back = document.createElement("button");
  back.type = "button";
  back.className = "plain";
  back.textContent = `Put ${before} back`;
  back.addEventListener("click", () => {
    fill(into, before);
    back.replaceWith(`${before} is back.`);
  });
  return [says, back];
}

/** Return the path of a field in a row, as forms name it. */
export function pathOf(list: string, row: number, name: string): string {
  return name ? `${list}[${row}].${name}` : `${list}[${row}]`;
}

function field(form: HTMLFormElement, path: string): HTMLInputElement | null {
  const found = form.elements.namedItem(path);
  return found instanceof HTMLInputElement ? found : null;
}

/** Return the first row of a list in which nothing that would be filled holds anything. */
function freeRow(form: HTMLFormElement, target: IntoRow): number {
  const names = Object.keys(target.cells);
  for (let row = 0; ; row += 1) {
    const fields = names.map((name) => field(form, pathOf(target.list, row, name)));
    if (fields.some((one) => one === null)) {
      return -1;
    }
    if (fields.every((one) => !one?.value.trim())) {
      return row;
    }
  }
}

function fill(into: HTMLInputElement | null, text: string): void {
  if (into) {
    into.value = text;
    into.dispatchEvent(new Event("input", { bubbles: true }));
  }
}

/** Ask for another row as soon as the last one is taken, so that the next reading has a place. */
function addRowIfLast(form: HTMLFormElement, target: IntoRow, row: number): void {
  const [first = ""] = Object.keys(target.cells);
  const add = form.querySelector<HTMLButtonElement>(`button[name="add"][value="${target.list}"]`);
  if (add && !field(form, pathOf(target.list, row + 1, first))) {
    add.click();
  }
}
