import { describe, expect, it } from "vitest";
import { recolour } from "../src/palette";

const dark = new Map([
  ["--ink", "#ece8de"],
  ["--warm", "#e59a63"],
]);

describe("recolour", () => {
  it("turns the light variant's colours into the palette's, at any depth", () => {
    const spec = { mark: { color: "#22262b" }, layer: [{ fill: "#B5541C" }] };
    expect(recolour(spec, dark)).toEqual({
      mark: { color: "#ece8de" },
      layer: [{ fill: "#e59a63" }],
    });
  });

  it("leaves every other value as it is", () => {
    const spec = { a: 1, b: null, c: "month", d: "#123456", e: [true] };
    expect(recolour(spec, dark)).toEqual(spec);
  });

  it("leaves a colour that the palette does not have", () => {
    expect(recolour("#1f6f8b", dark)).toBe("#1f6f8b");
  });

  it("does not change the description it was given", () => {
    const spec = { color: "#22262b" };
    recolour(spec, dark);
    expect(spec.color).toBe("#22262b");
  });
});
