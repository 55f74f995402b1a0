/** The session over an editor: it plans what is drawn, and turns what the artist does into edits of the drawing. */
import { readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { strip } from "../../core/layers/strip.ts";
import { createSession } from "../../plugin/panel/session.ts";
import type { PanelSession } from "../../plugin/panel/state.ts";
import { clientHere, type FakeEditor, fakeEditor, settle } from "./fake-editor.ts";

const bridge = readFileSync("fixtures/cases/bridge-later.svg", "utf8");

let editor: FakeEditor;
let session: PanelSession;

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  session.end();
  vi.useRealTimers();
});

async function open(svgText = bridge, given: Readonly<Record<string, unknown>> = {}): Promise<void> {
  editor = fakeEditor(svgText, "bridge.svg");
  session = createSession(editor, clientHere(), { given, threads: undefined });
  await settle();
}

const pieceOf = (id: string) => session.state.plan?.pieces.find((piece) => piece.id === id);
const rounded = (point: readonly number[] | undefined) =>
  point?.map((value) => Math.round(value * 1000) / 1000);

describe("planning", () => {
  it("plans what is open, and again after a pause when the artist drew", async () => {
    await open();
    expect(session.state.plan?.metrics.strands).toBe(2);
    editor.draw(bridge.replace(/<rect id="water".*/, ""));
    await settle(100);
    expect(session.state.planSerial).toBe(1);
    await settle(100);
    expect(session.state.planSerial).toBe(2);
    expect(session.state.plan?.metrics).toMatchObject({ pieces: 2, strands: 2 });
  });

  it("plans once for many changes in a row, and not at all where the drawing is the same", async () => {
    await open();
    for (const x of [5, 6, 7]) editor.draw(bridge.replace('x="4"', `x="${x}"`));
    await settle(200);
    expect(session.state.planSerial).toBe(2);
    editor.draw(editor.read());
    await settle(200);
    expect(session.state.planSerial).toBe(2);
  });

  it("works out reasons and suggestions when asked for, once all is at rest", async () => {
    await open(bridge.replace(/<rect id="water".*/, ""));
    await settle(1000);
    expect(session.state.explanation).toBeNull();
    session.explain();
    expect(session.state.isExplaining).toBe(true);
    await settle(1000);
    expect(session.state.explanation?.stops).toMatchObject([{ from: "blade-1", to: "blade-2" }]);
  });

  it("says why nothing can be planned, and plans again once it can", async () => {
    await open("<svg><rect></svg>");
    expect(session.state.plan).toBeNull();
    expect(session.state.problem?.message).not.toBe("");
    expect(session.state.problem?.remedy).not.toBe("");
    editor.draw(bridge);
    await settle(200);
    expect(session.state.problem).toBeNull();
    expect(session.state.plan?.metrics.pieces).toBe(3);
  });

  it("stops when asked to, keeps what it showed, and plans when asked again", async () => {
    await open();
    const shown = session.state.plan;
    editor.draw(bridge.replace('x="4"', 'x="5"'));
    vi.advanceTimersByTime(160);
    expect(session.state.planning).not.toBeNull();
    session.cancelPlanning();
    await settle();
    expect(session.state.planning).toBeNull();
    expect(session.state.plan).toBe(shown);
    expect(session.state.isStopped).toBe(true);
    session.planNow();
    await settle();
    expect(session.state.planSerial).toBe(2);
  });

  it("plans with what was given with the command, and the drawing has the last word", async () => {
    await open(bridge, { fillSpacingMm: 0.6, recipe: "knit" });
    expect(session.state.settings).toMatchObject({ fillSpacingMm: 0.6, recipe: "knit" });
    session.setSettings({ fillSpacingMm: 0.5 });
    await settle();
    expect(session.state.settings.fillSpacingMm).toBe(0.5);
    expect(session.state.inherited.fillSpacingMm).toBe(0.6);
    session.setSettings({ fillSpacingMm: undefined });
    await settle();
    expect(session.state.settings.fillSpacingMm).toBe(0.6);
    expect(editor.read()).not.toContain("data-tuck-settings");
  });
});

describe("markers and connectors", () => {
  it("a dropped marker is an attribute, one step of undo, and obeyed", async () => {
    await open();
    session.pin("blade-1", "exit", [8, 5]);
    await settle();
    expect(editor.read()).toContain(
      'id="blade-1" x="4" y="3" width="10" height="12" fill="#a3293d" data-tuck-exit="8 5"',
    );
    expect(editor.steps).toEqual(["Pinned the exit of blade-1"]);
    expect(rounded(pieceOf("blade-1")?.exit)).toEqual([8, 5]);
    expect(pieceOf("blade-1")?.exitPinned).toBe(true);
    editor.undo();
    await settle(200);
    expect(editor.read()).toBe(bridge);
    expect(session.state.notice).toBeNull();
    expect(pieceOf("blade-1")?.exitPinned).toBe(false);
  });

  it("released, it is chosen by the planner again", async () => {
    await open(bridge.replace('id="blade-1"', 'id="blade-1" data-tuck-entry="6 6"'));
    expect(pieceOf("blade-1")?.entryPinned).toBe(true);
    session.release("blade-1", "entry");
    await settle();
    expect(editor.read()).toBe(bridge);
    expect(pieceOf("blade-1")?.entryPinned).toBe(false);
  });

  it("snaps to the piece at once, and tells what is tucked", async () => {
    await open();
    expect(rounded(session.nearestLegal("blade-1", "exit", [20, 5]))).toEqual([14, 5]);
    expect(session.isTucked("blade-1", [9, 12])).toBe(true);
  });

  it("a pin that a moved marker in layers stands for is released with the layers, in one step", async () => {
    await open();
    session.pin("blade-1", "entry", [6, 6]);
    await settle();
    await session.writeLayers();
    await settle();
    // The artist moves the marker; the attribute goes with the element's own undo, the layers stay.
    const moved = editor
      .read()
      .replace(
        /(<g[^>]*data-tuck-point="entry"[^>]*data-tuck-piece="blade-1")/,
        '$1 transform="translate(1 1)"',
      );
    expect(moved).not.toBe(editor.read());
    editor.draw(moved);
    await settle(200);
    expect(rounded(pieceOf("blade-1")?.entry)).toEqual([7, 7]);
    const before = editor.steps.length;
    session.release("blade-1", "entry");
    await settle();
    expect(editor.steps.length).toBe(before + 1);
    expect(pieceOf("blade-1")?.entryPinned).toBe(false);
    expect(strip(editor.read())).toBe(bridge);
  });

  it("a bent connector runs through the point, until it is let go", async () => {
    await open();
    const [connector] = session.state.plan?.connectors ?? [];
    session.bend(connector.id, [[22, 16]]);
    await settle();
    expect(editor.read()).toContain(`data-tuck-bend="blade-2 22 16"`);
    const [bent] = session.state.plan?.connectors ?? [];
    expect(bent.points.some(([x, y]) => Math.hypot(x - 22, y - 16) < 0.01)).toBe(true);
    session.bend(bent.id, []);
    await settle();
    expect(editor.read()).toBe(bridge);
  });
});

describe("order", () => {
  const order = () => session.state.plan?.pieces.map(({ id }) => id);

  it("a legal move is done, in one step, and can be given back", async () => {
    await open();
    session.move(["blade-2"], null);
    await settle();
    expect(order()).toEqual(["blade-2", "blade-1", "water"]);
    expect(editor.steps).toEqual(["Sewed blade-2 first of all"]);
    session.releaseOrder(["blade-2"]);
    await settle();
    expect(order()).toEqual(["blade-1", "blade-2", "water"]);
    expect(editor.read()).toBe(bridge);
  });

  it("a move that would show a lower piece above a higher one is refused, with what is legal", async () => {
    await open();
    session.move(["blade-1"], "water");
    await settle();
    expect(order()).toEqual(["blade-1", "blade-2", "water"]);
    expect(editor.steps).toEqual([]);
    expect(session.state.notice?.text).toContain("water lies on blade-1");
    session.state.notice?.action?.run();
    await settle();
    expect(order()).toEqual(["blade-2", "blade-1", "water"]);
  });
});

describe("pieces", () => {
  it("choosing one selects its element and shows it; what the editor selects is chosen", async () => {
    await open();
    session.choose({ kind: "piece", id: "blade-2" });
    expect(editor.selection()).toEqual(["blade-2"]);
    expect(editor.revealed).toHaveLength(1);
    expect(session.state.selected).toEqual(["blade-2"]);
    editor.select(["water", "blade-1"]);
    expect(session.state.selected).toEqual(["blade-1", "water"]);
  });

  it("a group that is selected stands for the pieces in it", async () => {
    await open(
      bridge
        .replace('<rect id="blade-1"', '<g id="blades"><rect id="blade-1"')
        .replace('<rect id="water"', '</g><rect id="water"'),
    );
    editor.select(["blades"]);
    expect(session.state.selected).toEqual(["blade-1", "blade-2"]);
  });

  it("an angle is set on the element and taken back", async () => {
    await open();
    expect(session.angleSet("water")).toBeNull();
    session.setAngle(["water"], 30);
    await settle();
    expect(editor.read()).toContain('data-tuck-angle="30"');
    expect(session.angleSet("water")).toBe(30);
    session.setAngle(["water"], null);
    await settle();
    expect(editor.read()).toBe(bridge);
  });

  it("several are made one strand under a name that is not taken", async () => {
    await open(bridge.replace('id="water"', 'id="water" data-tuck-strand="strand-1"'));
    session.makeStrand(["blade-1", "blade-2"]);
    await settle();
    expect(editor.read().match(/data-tuck-strand="strand-2"/g)).toHaveLength(2);
    expect(editor.steps).toEqual(["Made one strand of 2 pieces"]);
  });
});

describe("layers and files", () => {
  it("layers are written and taken away, each in one step; the artwork stays as it was", async () => {
    await open();
    await session.writeLayers();
    await settle();
    expect(session.state.facts?.hasLayers).toBe(true);
    expect(strip(editor.read())).toBe(bridge);
    await session.takeLayersAway();
    await settle();
    expect(editor.read()).toBe(bridge);
    expect(editor.steps).toEqual(["Took the plan’s layers away", "Wrote the plan as layers"]);
  });

  it("a file that another program changed is replaced only when the artist says so", async () => {
    await open();
    const overwrite = vi.fn(async () => ({ kind: "saved", fileName: "bridge.svg" }) as const);
    editor.saveResult = { kind: "changed-on-disk", fileName: "bridge.svg", overwrite };
    session.save();
    await settle();
    expect(session.state.notice?.kind).toBe("question");
    expect(overwrite).not.toHaveBeenCalled();
    session.state.notice?.action?.run();
    await settle();
    expect(session.state.notice?.text).toBe("Saved bridge.svg");
  });
});
