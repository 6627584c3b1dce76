import { beforeEach, expect, test } from "vitest";
import { addSigns, rememberUnits, turned } from "../src/fields";

beforeEach(() => {
  localStorage.clear();
  document.body.innerHTML = "";
});

test("a sign is turned and turned back, whatever minus was typed", () => {
  expect(turned("50")).toBe("-50");
  expect(turned("-50.2 Pa")).toBe("50.2 Pa");
  expect(turned("−3")).toBe("3");
  expect(turned("+3")).toBe("-3");
  expect(turned("")).toBe("-");
});

test("the button turns the sign and tells the form", () => {
  document.body.innerHTML = '<form><input type="text" data-signed value="50"></form>';
  addSigns(document.body);
  let told = 0;
  document.querySelector("form")?.addEventListener("input", () => {
    told += 1;
  });
  document.querySelector("button")?.click();
  expect(document.querySelector("input")?.value).toBe("-50");
  expect(told).toBe(1);
});

test("a unit chosen once is chosen in the next new test", () => {
  const form =
    '<form><div data-units><select name="unit.flow"><option>cfm</option>' +
    "<option>L/s</option></select></div></form>";
  document.body.innerHTML = form;
  rememberUnits(document.body);
  const first = document.querySelector("select");
  if (first) {
    first.value = "L/s";
    first.dispatchEvent(new Event("change"));
  }
  document.body.innerHTML = form;
  rememberUnits(document.body);
  expect(document.querySelector("select")?.value).toBe("L/s");
});

test("a form that came back as typed keeps its own units", () => {
  localStorage.setItem("rooftree-unit:unit.flow", "L/s");
  document.body.innerHTML =
    '<form data-units-chosen><div data-units><select name="unit.flow"><option>cfm</option>' +
    "<option>L/s</option></select></div></form>";
  rememberUnits(document.body);
  expect(document.querySelector("select")?.value).toBe("cfm");
});
