/** Charts are described in the colours of the light variant; here they become those of the page. */

const LIGHT: Readonly<Record<string, string>> = {
  "#faf8f3": "--paper",
  "#22262b": "--ink",
  "#4c4a44": "--soft",
  "#b9b4a8": "--faint",
  "#efeadf": "--fill",
  "#1f6f8b": "--cool",
  "#b5541c": "--warm",
};

export type Token = "--paper" | "--ink" | "--soft" | "--faint" | "--fill" | "--cool" | "--warm";

/** Return the colours that the page uses now, by the name of their token. */
export function currentPalette(root: Element = document.documentElement): Map<string, string> {
  const style = getComputedStyle(root);
  return new Map(
    Object.values(LIGHT).map((token) => [token, style.getPropertyValue(token).trim()]),
  );
}

/** Return a copy in which each colour of the light variant is replaced by the palette's. */
export function recolour<Value>(value: Value, palette: ReadonlyMap<string, string>): Value {
  if (typeof value === "string") {
    const token = LIGHT[value.toLowerCase()];
    return ((token && palette.get(token)) || value) as Value;
  }
  if (Array.isArray(value)) {
    return value.map((item) => recolour(item, palette)) as Value;
  }
  if (value !== null && typeof value === "object") {
    return Object.fromEntries(
      Object.entries(value).map(([key, item]) => [key, recolour(item, palette)]),
    ) as Value;
  }
  return value;
}
