import { beforeEach, expect, test, vi } from "vitest";
import { watchTables } from "../src/tables";

const FORM = `<form>
  <input name="stations[0].pressure" value="-50 Pa">
  <details data-bring-in><div>
    <textarea name="table.text.stations">1\t2</textarea>
    <select name="table.place.stations.pressure"><option value="0">A</option><option value="1">B</option></select>
    <button type="button" name="table.look" value="stations" data-look-again>Look again</button>
  </div></details>
</form>`;

const sent = (): string[] => [...new FormData(form()).keys()];
const form = (): HTMLFormElement => document.querySelector("form") as HTMLFormElement;
const button = (): HTMLButtonElement => document.querySelector("button") as HTMLButtonElement;

beforeEach(() => {
  document.body.innerHTML = FORM;
  watchTables(document.body);
});

test("while somebody types, a table stays out of the form", () => {
  expect(sent()).toEqual(["stations[0].pressure"]);
});

test("its own buttons send it along, and afterwards it is out again", () => {
  button().click();
  expect(sent()).toEqual([
    "stations[0].pressure",
    "table.text.stations",
    "table.place.stations.pressure",
  ]);
  button().dispatchEvent(new Event("htmx:afterRequest", { bubbles: true }));
  expect(sent()).toEqual(["stations[0].pressure"]);
});

test("choosing another column looks again, and the form is not told", () => {
  const told = vi.fn();
  const pressed = vi.fn();
  form().addEventListener("change", told);
  form().addEventListener("input", told);
  button().addEventListener("click", pressed);
  for (const kind of ["input", "change"]) {
    document.querySelector("select")?.dispatchEvent(new Event(kind, { bubbles: true }));
    document.querySelector("textarea")?.dispatchEvent(new Event(kind, { bubbles: true }));
  }
  expect(pressed).toHaveBeenCalledTimes(1);
  expect(told).not.toHaveBeenCalled();
});

test("what is swapped in later is kept out too, and watched once", () => {
  const place = document.querySelector("details > div") as HTMLElement;
  place.innerHTML = '<textarea name="table.text.stations"></textarea>';
  watchTables(place);
  watchTables(document.body);
  expect(sent()).toEqual(["stations[0].pressure"]);
});
