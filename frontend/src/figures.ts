/** Draw each chart from the description that its figure carries. */

import type { EmbedOptions, Result, VisualizationSpec } from "vega-embed";
import { currentPalette, recolour } from "./palette";

const drawn = new Map<HTMLElement, Result>();

/** Draw every chart inside `root` that is not drawn yet. */
export function drawCharts(root: ParentNode & Node): void {
  forgetRemoved();
  const canvases = [...root.querySelectorAll<HTMLElement>("[data-chart]")];
  if (root instanceof HTMLElement && root.matches("[data-chart]")) {
    canvases.push(root);
  }
  for (const canvas of canvases) {
    void draw(canvas);
  }
}

/** Draw all charts again when the device goes from light to dark or back. */
export function redrawOnThemeChange(): void {
  window.matchMedia?.("(prefers-color-scheme: dark)").addEventListener("change", () => {
    for (const canvas of drawn.keys()) {
      void draw(canvas);
    }
  });
}

async function draw(canvas: HTMLElement): Promise<void> {
  const spec = JSON.parse(canvas.dataset.chart ?? "null") as VisualizationSpec | null;
  if (!spec) {
    return;
  }
  // The place is kept free while the library loads, so that nothing below jumps.
  const height: unknown = Reflect.get(spec, "height");
  if (typeof height === "number") {
    canvas.style.minHeight = `${height}px`;
  }
  const [{ embed, expressionInterpreter }] = await Promise.all([import("./vega"), fontsReady()]);
  const palette = currentPalette();
  drawn.get(canvas)?.finalize();
  const options: EmbedOptions = {
    mode: "vega-lite",
    renderer: "svg",
    actions: false,
    defaultStyle: false,
    tooltip: false,
    ast: true,
    expr: expressionInterpreter as NonNullable<EmbedOptions["expr"]>,
    config: config(palette),
  };
  // In an element of its own: the library gives it a role and a name, and ours stay.
  const place = document.createElement("div");
  canvas.replaceChildren(place);
  drawn.set(canvas, await embed(place, recolour(spec, palette), options));
}

/** Labels are laid out by their width, so the font must be there before. */
async function fontsReady(): Promise<void> {
  await Promise.all([
    document.fonts?.load("400 15px 'Source Sans 3'"),
    document.fonts?.load("600 15px 'Source Sans 3'"),
  ]);
}

function config(palette: ReadonlyMap<string, string>): NonNullable<EmbedOptions["config"]> {
  const ink = palette.get("--ink") ?? "black";
  const soft = palette.get("--soft") ?? ink;
  const faint = palette.get("--faint") ?? soft;
  const font = "'Source Sans 3'";
  return {
    background: "transparent",
    font,
    view: { stroke: null },
    axis: {
      labelColor: soft,
      titleColor: soft,
      labelFontSize: 14,
      titleFontSize: 14,
      titleFontWeight: 400,
      domainColor: ink,
      tickColor: ink,
      gridColor: faint,
      gridOpacity: 0.5,
    },
    header: { labelColor: ink, labelFontSize: 15, labelFontWeight: 600, titleColor: soft },
    legend: { labelColor: ink, labelFontSize: 14, titleColor: soft, titleFontWeight: 400 },
    text: { color: ink, fontSize: 14 },
  };
}

function forgetRemoved(): void {
  for (const [canvas, result] of drawn) {
    if (!canvas.isConnected) {
      result.finalize();
      drawn.delete(canvas);
    }
  }
}
