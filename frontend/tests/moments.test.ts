import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { type Moments, moveSection, showMoment } from "../src/moments";

const PAGE = `
<section data-moments="/moments/">
  <h2 data-says></h2><p><b data-when></b><span data-weather></span></p>
  <form>
    <select name="show"><option value="coldest">The coldest day</option><option value="day">Any day</option></select>
    <div data-day><input type="range" name="day" min="1" max="365" value="40"></div>
    <input type="range" name="at" min="0" max="2" value="1">
    <button type="button" data-play hidden><span data-play-words>Play</span></button>
  </form>
  <div class="drawing"><svg><title></title><desc></desc>
    <text data-place="0" data-what="text"></text>
    <path data-place="1" data-what="width"></path>
    <line data-place="2" data-what="level"></line>
  </svg></div>
</section>`;

const moment = (when: string, width: number, level: number | null) => ({
  when,
  weather: "3 °F outside",
  says: "Air comes from below",
  alternative: `At ${when}.`,
  values: ["68 °F", width, level],
});

const DAY: Moments = {
  words: "5 February",
  moments: [moment("6 a.m.", 4, null), moment("7 a.m.", 0, 12.5), moment("8 a.m.", 9, 0)],
};

let part: HTMLElement;
const one = <Kind extends Element>(where: string): Kind => {
  const found = part.querySelector<Kind>(where);
  if (!found) {
    throw new Error(`${where} is not on the page`);
  }
  return found;
};

beforeEach(() => {
  document.body.innerHTML = PAGE;
  part = document.querySelector("section") as HTMLElement;
  vi.useFakeTimers();
});

afterEach(() => {
  vi.useRealTimers();
});

describe("a moment", () => {
  it("is put into words, widths and levels", () => {
    showMoment(part, moment("7 a.m.", 7.2, -4));
    expect(one("[data-place='0']").textContent).toBe("68 °F");
    expect(one("[data-place='1']").getAttribute("stroke-width")).toBe("7.2");
    expect(one("[data-place='2']").getAttribute("transform")).toBe("translate(0 -4)");
    expect(one("svg").getAttribute("aria-label")).toBe("Air comes from below. At 7 a.m..");
    expect(one("[data-when]").textContent).toBe("7 a.m.");
  });

  it("hides an arrow without flow and a level outside the house", () => {
    showMoment(part, moment("7 a.m.", 0, null));
    expect(one("[data-place='1']").getAttribute("visibility")).toBe("hidden");
    expect(one("[data-place='2']").getAttribute("visibility")).toBe("hidden");
    showMoment(part, moment("8 a.m.", 3, 0));
    expect(one("[data-place='1']").getAttribute("visibility")).toBe("visible");
    expect(one("[data-place='2']").getAttribute("visibility")).toBe("visible");
  });
});

describe("the controls", () => {
  it("show the chosen moment and say it on the slider", async () => {
    await moveSection(part, () => Promise.resolve(DAY));
    expect(one("[data-when]").textContent).toBe("7 a.m.");
    const at = one<HTMLInputElement>("input[name=at]");
    at.value = "2";
    at.dispatchEvent(new Event("input"));
    expect(one("[data-when]").textContent).toBe("8 a.m.");
    expect(at.getAttribute("aria-valuetext")).toBe("8 a.m.");
  });

  it("play goes on from moment to moment, around, until it is paused", async () => {
    await moveSection(part, () => Promise.resolve(DAY));
    const play = one<HTMLButtonElement>("[data-play]");
    expect(play.hidden).toBe(false);
    play.click();
    expect(one("[data-when]").textContent).toBe("8 a.m.");
    expect(play.textContent).toBe("Pause");
    vi.advanceTimersByTime(800);
    expect(one("[data-when]").textContent).toBe("6 a.m.");
    play.click();
    vi.advanceTimersByTime(5000);
    expect(one("[data-when]").textContent).toBe("6 a.m.");
    expect(play.textContent).toBe("Play");
  });

  it("sliding stops what plays", async () => {
    await moveSection(part, () => Promise.resolve(DAY));
    one<HTMLButtonElement>("[data-play]").click();
    one("input[name=at]").dispatchEvent(new Event("input"));
    expect(one("[data-play]").textContent).toBe("Play");
  });

  it("ask for a day by its number, and drop an answer that comes late", async () => {
    const asked: string[] = [];
    const answers = new Map<string, (come: Moments) => void>();
    const get = (name: string): Promise<Moments> => {
      asked.push(name);
      return name === "coldest"
        ? Promise.resolve(DAY)
        : new Promise((come) => answers.set(name, come));
    };
    await moveSection(part, get);
    const show = one<HTMLSelectElement>("select");
    const day = one<HTMLInputElement>("input[name=day]");
    show.value = "day";
    show.dispatchEvent(new Event("change"));
    day.value = "200";
    day.dispatchEvent(new Event("input"));
    expect(asked).toEqual(["coldest", "day-40", "day-200"]);
    const of = (when: string): Moments => ({ words: when, moments: [moment(when, 1, 1)] });
    answers.get("day-200")?.(of("19 July"));
    answers.get("day-40")?.(of("9 February"));
    await vi.runAllTimersAsync();
    expect(one("[data-when]").textContent).toBe("19 July");
    expect(one<HTMLInputElement>("input[name=at]").max).toBe("0");
  });

  it("say so when a moment cannot be fetched", async () => {
    await moveSection(part, () => Promise.reject(new Error("gone")));
    expect(one("[data-weather]").textContent).toContain("could not be fetched");
  });
});
