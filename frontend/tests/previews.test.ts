import { expect, test } from "vitest";
import { askOnlyForThePreview, dropLateAnswers } from "../src/previews";

const FORM =
  '<form hx-post="/own/preview"><input name="name" value="bath">' +
  '<button name="add" value="rows" formaction="/own/again">Add a row</button></form>';

function asked(selector: string): Parameters<typeof askOnlyForThePreview>[0] {
  document.body.innerHTML = FORM;
  const elt = document.querySelector(selector);
  if (!elt) {
    throw new Error(selector);
  }
  const formData = new FormData();
  formData.set("name", "bath");
  formData.set("add", "rows");
  return { elt, path: "/own/again", formData };
}

test("a form asks for its preview although a button has the focus", () => {
  const detail = asked("form");
  askOnlyForThePreview(detail);
  expect(detail.path).toBe("/own/preview");
  expect([...detail.formData.keys()]).toEqual(["name"]);
});

test("what a button asks for itself stays as it is", () => {
  const detail = asked("button");
  askOnlyForThePreview(detail);
  expect(detail.path).toBe("/own/again");
  expect(detail.formData.get("add")).toBe("rows");
});

test("an answer for a form that is gone is dropped, one for a form that stands is not", () => {
  document.body.innerHTML = "<form data-draft='a'></form>";
  dropLateAnswers(document.body);
  const form = document.querySelector("form");
  const come = (): boolean =>
    form?.dispatchEvent(new Event("htmx:beforeOnLoad", { bubbles: true, cancelable: true })) ??
    false;
  expect(come()).toBe(true);
  form?.remove();
  expect(come()).toBe(false);
});
