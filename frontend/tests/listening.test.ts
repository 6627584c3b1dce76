import { beforeEach, expect, test, vi } from "vitest";
import { pathOf, takeReading, watchListening } from "../src/listening";

const INTO_ROW = '{"list": "stations", "cells": {"pressure": "house", "fans[0].flow": "flow"}}';
const INTO_FIELD = '{"path": "worst", "reading": "house"}';
const INTO_BASELINE = '{"list": "baseline", "cells": {"": "house"}}';

const row = (k: number, pressure = ""): string =>
  `<input name="stations[${k}].pressure" value="${pressure}"><input name="stations[${k}].fans[0].flow">`;

const lay = (target: string, rows: string, mean = "-50.1 Pa", settling = "settled"): void => {
  document.body.innerHTML = `
    <div data-reading="house" data-mean="${mean}" data-settling="${settling}"></div>
    <div data-reading="flow" data-mean="1980 cfm" data-settling="settled"></div>
    <select data-live-target><option value='${target}'>x</option><option value='{}'>y</option></select>
    <p data-live-said></p>
    <form data-again="/again">${rows}<label for="worst">Worst case</label>
    <input id="worst" name="worst" value="-2 Pa"><input name="baseline[0]">
    <button type="button" name="add" value="stations">Add</button></form>`;
};

const value = (name: string): string =>
  document.querySelector<HTMLInputElement>(`input[name="${name}"]`)?.value ?? "none";
const said = (): string => document.querySelector("[data-live-said]")?.textContent ?? "";

beforeEach(() => {
  document.body.innerHTML = "";
});

test("paths of fields are those of the forms", () => {
  expect(pathOf("stations", 2, "fans[0].flow")).toBe("stations[2].fans[0].flow");
  expect(pathOf("baseline", 0, "")).toBe("baseline[0]");
});

test("a reading goes into the first free row, and the form is told", () => {
  lay(INTO_ROW, row(0, "-60 Pa") + row(1) + row(2));
  const told = vi.fn();
  document.querySelector("form")?.addEventListener("input", told);
  takeReading(document);
  expect(value("stations[0].pressure")).toBe("-60 Pa");
  expect(value("stations[1].pressure")).toBe("-50.1 Pa");
  expect(value("stations[1].fans[0].flow")).toBe("1980 cfm");
  expect(told).toHaveBeenCalledTimes(2);
  expect(said()).toBe("Row 2: -50.1 Pa, 1980 cfm.");
});

test("the last row asks for another, a full list says so", () => {
  lay(INTO_ROW, row(0));
  const added = vi.fn();
  document.querySelector("button")?.addEventListener("click", added);
  takeReading(document);
  expect(added).toHaveBeenCalledTimes(1);
  takeReading(document);
  expect(value("stations[0].pressure")).toBe("-50.1 Pa");
  expect(said()).toContain("no free row");
});

test("when a row was read is counted from the first that was taken", () => {
  const target = '{"list": "lines", "cells": {"co2": "house"}, "clock": "time"}';
  const line = (k: number): string =>
    `<input name="lines[${k}].time"><input name="lines[${k}].co2">`;
  lay(target, line(0) + line(1) + line(2), "1800 ppm");
  const clock = document.querySelector<HTMLElement>("[data-reading]") as HTMLElement;
  clock.dataset.time = "2026-11-25T10:00:00Z";
  takeReading(document);
  clock.dataset.time = "2026-11-25T10:05:00.5Z";
  takeReading(document);
  expect(value("lines[0].time")).toBe("0 s");
  expect(value("lines[1].time")).toBe("300.5 s");
  expect(said()).toBe("Row 2: 1800 ppm. After 300.5 s.");
});

test("without the first row taken here the time is left to the person", () => {
  const target = '{"list": "log", "cells": {"co2": "house"}, "clock": "time"}';
  lay(
    target,
    '<input name="log[0].time"><input name="log[0].co2" value="1 ppm"><input name="log[1].time"><input name="log[1].co2">',
  );
  const clock = document.querySelector<HTMLElement>("[data-reading]") as HTMLElement;
  clock.dataset.time = "2026-11-25T10:00:00Z";
  takeReading(document);
  expect(value("log[1].time")).toBe("");
  expect(said()).toContain("Type when it was read");
});

test("a reading that had not settled is taken and told", () => {
  lay(INTO_BASELINE, "", "-1.2 Pa", "drifting");
  takeReading(document);
  expect(value("baseline[0]")).toBe("-1.2 Pa");
  expect(said()).toContain("It had not settled.");
});

test("without a mean nothing is taken", () => {
  lay(INTO_BASELINE, "", "", "too_short");
  takeReading(document);
  expect(value("baseline[0]")).toBe("");
  expect(said()).toContain("Nothing to take");
});

test("what stood in a field can be put back, and the next field is chosen", () => {
  lay(INTO_FIELD, "");
  takeReading(document);
  expect(value("worst")).toBe("-50.1 Pa");
  expect(said()).toBe("Worst case: -50.1 Pa. Put -2 Pa back");
  expect(document.querySelector<HTMLSelectElement>("select")?.selectedIndex).toBe(1);
  document.querySelector<HTMLButtonElement>("[data-live-said] button")?.click();
  expect(value("worst")).toBe("-2 Pa");
});

test("closing the part stops asking, opening it asks", () => {
  document.body.innerHTML = '<details data-listen><div class="place"><p>old</p></div></details>';
  watchListening(document.body);
  const part = document.querySelector("details") as HTMLDetailsElement;
  const ask = (): boolean =>
    part.dispatchEvent(new Event("htmx:beforeRequest", { bubbles: true, cancelable: true }));
  expect(ask()).toBe(false);
  expect(part.querySelector(".place")?.textContent).toBe("");
  part.open = true;
  expect(ask()).toBe(true);
});
