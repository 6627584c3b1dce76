import { beforeEach, describe, expect, it, vi } from "vitest";
import { entriesOf, sameEntries, storedDraft, watchDrafts } from "../src/drafts";

const take = vi.fn();

function page(value: string, attributes = ""): HTMLFormElement {
  document.body.innerHTML = `
    <form data-draft="test-1" ${attributes}>
      <div data-draft-offer hidden><button type="button" data-draft-take>Bring it back</button><button type="button" data-draft-drop>Forget it</button></div>
      <input name="stations.0.pressure" value="${value}">
    </form>`;
  const form = document.querySelector("form");
  if (!form) throw new Error("no form");
  watchDrafts(document.body, take);
  return form;
}

function type(form: HTMLFormElement, text: string): void {
  const input = form.querySelector("input");
  if (!input) throw new Error("no input");
  input.value = text;
  input.dispatchEvent(new Event("input", { bubbles: true }));
}

const offer = (): boolean => !document.querySelector<HTMLElement>("[data-draft-offer]")?.hidden;

beforeEach(() => {
  localStorage.clear();
  take.mockClear();
});

describe("drafts", () => {
  it("keeps what is typed on the device", () => {
    type(page("-50 Pa"), "-49 Pa");
    expect(storedDraft("test-1")).toEqual([["stations.0.pressure", "-49 Pa"]]);
  });

  it("offers what was typed when the page comes up with something else", () => {
    type(page("-50 Pa"), "-49 Pa");
    page("-50 Pa");
    expect(offer()).toBe(true);
  });

  it("forgets a draft that has been saved", () => {
    type(page("-50 Pa"), "-49 Pa");
    page("-49 Pa");
    expect(offer()).toBe(false);
    expect(storedDraft("test-1")).toBeNull();
  });

  it("keeps the draft while the form comes back with a mistake marked", () => {
    type(page("-50 Pa"), "-49 apples");
    page("-49 apples", "data-unsaved");
    expect(storedDraft("test-1")).not.toBeNull();
  });

  it("drops the draft when asked to", () => {
    type(page("-50 Pa"), "-49 Pa");
    page("-50 Pa");
    document.querySelector<HTMLButtonElement>("[data-draft-drop]")?.click();
    expect(storedDraft("test-1")).toBeNull();
  });

  it("gives the draft back when asked to", () => {
    type(page("-50 Pa"), "-49 Pa");
    const form = page("-50 Pa");
    document.querySelector<HTMLButtonElement>("[data-draft-take]")?.click();
    expect(take).toHaveBeenCalledWith(form, [["stations.0.pressure", "-49 Pa"]]);
  });

  it("takes a draft that cannot be read for none", () => {
    localStorage.setItem("rooftree-draft:test-1", "{");
    expect(storedDraft("test-1")).toBeNull();
  });
});

describe("sameEntries", () => {
  it("does not count empty rows or order", () => {
    expect(
      sameEntries(
        [
          ["b", "2"],
          ["a", "1"],
          ["c", " "],
        ],
        [
          ["a", "1"],
          ["b", "2"],
        ],
      ),
    ).toBe(true);
  });

  it("tells a changed value", () => {
    expect(sameEntries([["a", "1"]], [["a", "2"]])).toBe(false);
  });

  it("reads a form's text fields", () => {
    expect(entriesOf(page("-50 Pa"))).toEqual([["stations.0.pressure", "-50 Pa"]]);
  });
});
