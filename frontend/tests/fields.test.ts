import { beforeEach, expect, test } from "vitest";
import {
  addSigns,
  goOnWithEnter,
  openAgain,
  openParts,
  rememberUnits,
  turned,
} from "../src/fields";

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

test("Enter in a row goes on to the next row, and in the last one asks for another", () => {
  document.body.innerHTML =
    '<form><fieldset><table class="entry-rows"><tbody>' +
    '<tr><th>1</th><td><input id="a1"></td><td><input id="b1"></td></tr>' +
    '<tr style="display: none"><th>2</th><td><input id="a2"></td></tr>' +
    '<tr><th>3</th><td><select id="a3"></select></td><td><input id="b3"></td></tr>' +
    '</tbody></table><button type="button" name="add">Add a row</button></fieldset></form>';
  goOnWithEnter(document.body);
  let asked = 0;
  document.querySelector("button")?.addEventListener("click", () => {
    asked += 1;
  });
  const press = (id: string): boolean => {
    const enter = new KeyboardEvent("keydown", { key: "Enter", bubbles: true, cancelable: true });
    return document.getElementById(id)?.dispatchEvent(enter) ?? true;
  };
  expect(press("b1")).toBe(false);
  expect(document.activeElement?.id).toBe("a3");
  expect(asked).toBe(0);
  expect(press("b3")).toBe(false);
  expect(asked).toBe(1);
});

test("what was opened in a form is open again in the next", () => {
  const form = '<details id="one"></details><details id="two"></details><details></details>';
  document.body.innerHTML = form;
  document.querySelector("#two")?.setAttribute("open", "");
  const opened = openParts(document.body);
  expect(opened).toEqual(["two"]);
  document.body.innerHTML = form.replace('id="one"', 'id="one" open');
  openAgain(document.body, opened);
  expect(openParts(document.body)).toEqual(["one", "two"]);
});
