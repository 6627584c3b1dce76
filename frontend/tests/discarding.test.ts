import { beforeEach, expect, test } from "vitest";
import { watchDiscarding } from "../src/discarding";
import { watchDrafts } from "../src/drafts";

const KEY = "rooftree-draft:job/house/leak";

beforeEach(() => {
  localStorage.clear();
  document.body.innerHTML =
    '<form data-draft="job/house/leak"><input name="area" value="3 ft²">' +
    '<a href="#" data-discard>Discard</a></form><a id="other" href="#">House</a>';
  watchDrafts(document.body, () => {});
  watchDiscarding(document.body);
  const field = document.querySelector("input") as HTMLInputElement;
  field.value = "4 ft²";
  field.dispatchEvent(new Event("input", { bubbles: true }));
});

test("who discards a form is not offered it again", () => {
  expect(localStorage.getItem(KEY)).toContain("4 ft²");
  document.querySelector<HTMLElement>("[data-discard]")?.click();
  expect(localStorage.getItem(KEY)).toBeNull();
});

test("any other way out keeps what was typed", () => {
  document.querySelector<HTMLElement>("#other")?.click();
  expect(localStorage.getItem(KEY)).toContain("4 ft²");
});
