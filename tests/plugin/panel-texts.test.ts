/** The panel's words: one for everything that it can be asked to name, and plurals that agree. */
import { expect, it } from "vitest";
import { SETTING_NAMES, SETTINGS_TABLE } from "../../core/settings-schema.ts";
import { OVERLAYS } from "../../plugin/session-types.ts";
import { texts } from "../../plugin/texts.ts";

/** Every string in the texts, and what each function of them says of nothing in particular. */
function strings(of: unknown, path = "texts"): [path: string, text: string][] {
  if (typeof of === "string") return [[path, of]];
  if (typeof of !== "object" || of === null) return [];
  return Object.entries(of).flatMap(([key, inner]) => strings(inner, `${path}.${key}`));
}

it("has a label for every setting, a name for every overlay and every choice", () => {
  for (const name of SETTING_NAMES) {
    expect(texts.settings.labels[name], name).toMatch(/^[A-Z]/);
    const info = SETTINGS_TABLE[name];
    if (info.kind === "choice")
      for (const choice of info.choices) expect(texts.choice(choice)).toMatch(/^[A-Z]/);
  }
  for (const name of OVERLAYS) expect(texts.overlays.names[name]).toMatch(/^[A-Z]/);
  expect(new Set(Object.values(texts.settings.labels)).size).toBe(SETTING_NAMES.length);
});

it("leaves no word empty", () => {
  const said = strings(texts);
  expect(said.length).toBeGreaterThan(120);
  for (const [path, text] of said) expect(text.trim(), path).not.toBe("");
});

it("agrees in number", () => {
  expect(texts.order.pieceCount(1)).toBe("1 piece");
  expect(texts.order.pieceCount(2)).toBe("2 pieces");
  expect(texts.findings.stopCount(1)).toContain("once");
  expect(texts.findings.saves(1, 2)).toBe("Saves 1 block and 2 strands.");
  expect(texts.plan.size(80, 80, 1, 1200)).toBe("80 × 80 mm, 1 piece, 1,200 stitches");
  expect(texts.steps.override("angle", 30, ["a", "b", "c", "d"])).toBe(
    "Set the angle of a, b and 2 more to 30",
  );
});

it("says what a plan is against the one before", () => {
  const now = { strands: 14, trims: 13, untucked: { strands: 69, trims: 68 } } as Parameters<
    typeof texts.panel.planned
  >[0];
  expect(texts.panel.planned(now, null)).toBe("Planned: 14 strands, 13 trims.");
  expect(texts.panel.planned(now, { ...now, strands: 15, trims: 12 })).toBe(
    "Planned: 14 strands (1 fewer), 13 trims (1 more).",
  );
});

it("says whether the design fits its hoop, and what to do if not", () => {
  const size = { widthMm: 90, heightMm: 100 };
  expect(texts.plan.hoop(size, 100, 100)).toMatch(/^Fits/);
  expect(texts.plan.hoop(size, 80, 120)).toMatch(/^Does not fit.*larger hoop/);
  expect(texts.plan.hoop(size, null, 100)).toMatch(/^No hoop/);
});
