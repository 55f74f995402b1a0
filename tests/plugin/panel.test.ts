// @vitest-environment jsdom
/**
 * The panel in a document: roles and names as the ARIA Authoring Practices Guide has them for tabs and trees
 * (w3.org/WAI/ARIA/apg, from memory), keys that go about, and what is told.
 */
import { readFileSync } from "node:fs";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { openPlaces } from "../../plugin/panel/order-drag.ts";
import { TuckPanel } from "../../plugin/panel/panel.ts";
import { createSession } from "../../plugin/panel/session.ts";
import type { PanelSession } from "../../plugin/panel/state.ts";
import { clientHere, type FakeEditor, fakeEditor, settle } from "./fake-editor.ts";

const bridge = readFileSync("fixtures/cases/bridge-later.svg", "utf8");

let editor: FakeEditor;
let session: PanelSession;
let panel: TuckPanel;

beforeEach(() => {
  vi.useFakeTimers();
  // jsdom lays nothing out.
  Element.prototype.scrollIntoView = () => {};
});
afterEach(() => {
  panel.remove();
  session.end();
  vi.useRealTimers();
});

async function open(svgText = bridge, openDemo?: () => Promise<void>): Promise<void> {
  editor = fakeEditor(svgText, "bridge.svg");
  session = createSession(editor, clientHere(), {
    given: {},
    threads: undefined,
    ...(openDemo === undefined ? {} : { openDemo }),
  });
  panel = new TuckPanel();
  panel.session = session;
  document.body.append(panel);
  await settle();
}

/** The first element that a selector finds in the panel, shadow trees of its parts included. */
function find(selector: string, within: ParentNode = panel.renderRoot): HTMLElement {
  const found = search(selector, within);
  if (found === null) throw new Error(`nothing is ${selector}`);
  return found;
}

function search(selector: string, within: ParentNode): HTMLElement | null {
  const direct = within.querySelector<HTMLElement>(selector);
  if (direct !== null) return direct;
  for (const element of within.querySelectorAll("*")) {
    const inside = element.shadowRoot && search(selector, element.shadowRoot);
    if (inside) return inside;
  }
  return null;
}

const textOf = (selector: string) => find(selector).textContent?.replace(/\s+/g, " ").trim();

async function press(target: HTMLElement, key: string, modifiers: KeyboardEventInit = {}): Promise<void> {
  target.dispatchEvent(
    new KeyboardEvent("keydown", { key, bubbles: true, composed: true, cancelable: true, ...modifiers }),
  );
  await settle();
}

const show = async (view: string): Promise<void> => {
  find(`#tab-${view}`).click();
  await settle();
};

const rows = () => [...find('[role="tree"]').querySelectorAll<HTMLElement>('[role="treeitem"]')];
const rowOf = (key: string) => find(`[data-key="${key}"]`);

describe("the panel", () => {
  it("shows what was gained, and tells it in a live region", async () => {
    await open();
    expect(textOf("header")).toContain("Plan of bridge.svg");
    expect(textOf('[role="status"]')).toBe("Planned: 2 strands, 1 trim.");
    expect(textOf("tbody")).toContain("Strands");
  });

  it("says so each time a plan is there, though its figures be the same", async () => {
    await open();
    const status = find('[role="status"]');
    const said: string[] = [];
    for (const angleDeg of [30, 31, 30]) {
      editor.draw(bridge.replace('id="blade-1"', `id="blade-1" data-tuck-angle="${angleDeg}"`));
      await settle(400);
      said.push(status.textContent ?? "");
    }
    expect(new Set(said.map((words) => words.trim())).size).toBe(1);
    for (const [k, words] of said.slice(1).entries()) expect(words).not.toBe(said[k]);
  });

  it("has tabs that arrow keys go through, each with its own panel", async () => {
    await open();
    const tab = find("#tab-plan");
    expect(tab.getAttribute("aria-selected")).toBe("true");
    await press(tab, "ArrowRight");
    expect(find("#tab-pieces").getAttribute("aria-selected")).toBe("true");
    expect(tab.tabIndex).toBe(-1);
    expect(find("#view-pieces").hidden).toBe(false);
    expect(find("#view-plan").hidden).toBe(true);
  });

  it("keeps its keys from the editor, and undoes by the editor's own undo", async () => {
    await open();
    const heard = vi.fn();
    document.body.addEventListener("keydown", heard);
    session.setAngle(["water"], 30);
    await settle();
    await press(find("#tab-plan"), "z", { ctrlKey: true });
    document.body.removeEventListener("keydown", heard);
    expect(editor.read()).toBe(bridge);
    expect(heard).not.toHaveBeenCalled();
  });

  it("says of an empty drawing what to do, and offers the demo", async () => {
    const openDemo = vi.fn(async () => {});
    await open(
      '<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="50mm" viewBox="0 0 50 50"/>',
      openDemo,
    );
    expect(textOf(".notice")).toContain("Draw shapes");
    find(".notice button").click();
    expect(openDemo).toHaveBeenCalledOnce();
  });

  it("says of a broken drawing what is wrong and what to do", async () => {
    await open("<svg><rect></svg>");
    expect(textOf('[role="alert"]')).toContain("Nothing can be planned.");
    expect(textOf('[role="alert"]')).toContain("Undo the last change");
  });
});

describe("the order list", () => {
  it("is a tree of blocks, strands and pieces, with one row that Tab reaches", async () => {
    await open();
    await show("pieces");
    expect(rows().map((row) => [row.dataset.key, row.getAttribute("aria-level")])).toEqual([
      ["block 0", "1"],
      ["strand 0", "2"],
      ["piece blade-1", "3"],
      ["piece blade-2", "3"],
      ["block 1", "1"],
      ["strand 1", "2"],
      ["piece water", "3"],
    ]);
    expect(rows().filter(({ tabIndex }) => tabIndex === 0)).toHaveLength(1);
    expect(rowOf("block 0").getAttribute("aria-label")).toBe("Block 1, #a3293d, 1 strand");
  });

  it("is walked and folded by arrow keys", async () => {
    await open();
    await show("pieces");
    const tree = find('[role="tree"]');
    await press(tree, "ArrowDown");
    await press(tree, "ArrowDown");
    expect(rowOf("piece blade-1").tabIndex).toBe(0);
    await press(tree, "ArrowLeft");
    expect(rowOf("strand 0").tabIndex).toBe(0);
    await press(tree, "ArrowLeft");
    expect(rowOf("strand 0").getAttribute("aria-expanded")).toBe("false");
    expect(rows().map(({ dataset }) => dataset.key)).not.toContain("piece blade-1");
  });

  it("follows what is chosen on the canvas, into folded strands too", async () => {
    await open();
    await show("pieces");
    const tree = find('[role="tree"]');
    await press(tree, "ArrowDown");
    await press(tree, "ArrowLeft");
    expect(rowOf("strand 0").getAttribute("aria-expanded")).toBe("false");
    editor.select(["blade-2"]);
    await settle();
    expect(rowOf("piece blade-2").tabIndex).toBe(0);
    expect(rowOf("piece blade-2").getAttribute("aria-selected")).toBe("true");
    // A row that stands for more than what is chosen stays where it is.
    rowOf("block 0").click();
    await settle();
    expect(rowOf("block 0").tabIndex).toBe(0);
    editor.select(["blade-1"]);
    await settle();
    expect(rowOf("piece blade-1").tabIndex).toBe(0);
  });

  it("moves a piece by Alt and arrow keys, and says why one cannot go further", async () => {
    await open();
    await show("pieces");
    rowOf("piece blade-2").click();
    await settle();
    await press(find('[role="tree"]'), "ArrowUp", { altKey: true });
    await settle();
    expect(session.state.plan?.pieces.map(({ id }) => id)).toEqual(["blade-2", "blade-1", "water"]);
    rowOf("piece water").click();
    await settle();
    await press(find('[role="tree"]'), "ArrowUp", { altKey: true });
    await settle();
    expect(textOf('[role="alert"]')).toContain("Not there: water lies on blade-1");
  });

  it("moves a whole block past the next, where that may be", async () => {
    await open(bridge.replace('y="10" width="40" height="8"', 'y="16" width="40" height="3"'));
    await show("pieces");
    rowOf("block 1").click();
    await settle();
    await press(find('[role="tree"]'), "ArrowUp", { altKey: true });
    await settle();
    expect(session.state.plan?.pieces.map(({ id }) => id)).toEqual(["water", "blade-1", "blade-2"]);
  });

  it("points at what the row under the focus stands for, and marks what is pointed at elsewhere", async () => {
    await open();
    await show("pieces");
    rowOf("piece blade-2").focus();
    expect(session.state.pointed).toEqual({ kind: "piece", id: "blade-2" });
    session.point({ kind: "marker", piece: "water", point: "exit" });
    expect(rowOf("piece water").hasAttribute("data-pointed")).toBe(true);
    expect(rowOf("piece blade-2").hasAttribute("data-pointed")).toBe(false);
  });

  it("marks the piece that a connector leaves, when that is pointed at", async () => {
    await open();
    await show("pieces");
    session.point({ kind: "connector", id: session.state.plan!.connectors[0].id });
    expect(rowOf("piece blade-1").hasAttribute("data-pointed")).toBe(true);
  });

  it("knows while dragging which rows may be followed", () => {
    const order = ["ground", "blade-1", "blade-2", "reed", "water"];
    const open = openPlaces(order, ["blade-2"], { notBefore: "ground", notAfter: "water" }, (id) => [id]);
    expect([...open]).toEqual(["ground", "blade-1", "reed"]);
    const anywhere = openPlaces(order, ["reed"], { notBefore: null, notAfter: null }, (id) => [id]);
    expect(anywhere.has(null)).toBe(true);
    expect(anywhere.size).toBe(5);
  });
});

describe("the piece editor", () => {
  const type = async (id: string, value: string): Promise<HTMLInputElement> => {
    const input = find(`#${id}`) as HTMLInputElement;
    input.value = value;
    input.dispatchEvent(new Event("change"));
    await settle();
    return input;
  };

  it("sets what is typed on the selected element, and its button leaves it to the drawing again", async () => {
    await open();
    await show("pieces");
    editor.select(["water"]);
    await settle();
    await type("spacing", "0,5");
    expect(editor.read()).toContain('data-tuck-spacing="0.5"');
    find('[aria-label^="Spacing"]').click();
    await settle();
    expect(editor.read()).toBe(bridge);
  });

  it("refuses what is out of range, and says what is not", async () => {
    await open();
    await show("pieces");
    editor.select(["water"]);
    await settle();
    const input = await type("spacing", "40");
    expect(input.getAttribute("aria-invalid")).toBe("true");
    expect(input.validationMessage).toBe("Give a number from 0.2 to 10 mm.");
    expect(editor.read()).toBe(bridge);
  });

  it("turns rows by arrow keys on the dial", async () => {
    await open(bridge.replace('id="water"', 'id="water" data-tuck-angle="10"'));
    await show("pieces");
    editor.select(["water"]);
    await settle();
    const dial = find('[role="slider"]');
    expect(dial.getAttribute("aria-valuetext")).toBe("10°");
    await press(dial, "PageDown");
    expect(editor.read()).toContain('data-tuck-angle="175"');
  });

  it("shows on the dial how the plan lays rows where nobody set them, says so, and turns on from there", async () => {
    await open(bridge.replace("<title>", '<metadata data-tuck-settings="fillAngleDeg=60"/><title>'));
    await show("pieces");
    editor.select(["water"]);
    await settle();
    const dial = find('[role="slider"]');
    expect(dial.getAttribute("aria-valuenow")).toBe("60");
    await press(dial, "ArrowRight");
    expect(editor.read()).toContain('data-tuck-angle="61"');

    editor.draw(bridge);
    await settle(400);
    editor.select(["water"]);
    await settle();
    const planned = Number(dial.getAttribute("aria-valuenow"));
    expect(dial.getAttribute("aria-valuetext")).toBe(`${planned}, chosen by the plan`);
    const water =
      session.state.plan?.sewing.filter((step) => "piece" in step && step.piece === "water") ?? [];
    expect(water.length).toBeGreaterThan(0);
    await press(dial, "ArrowRight");
    expect(editor.read()).toContain(`data-tuck-angle="${(planned + 1) % 180}"`);
  });
});

it("findings and suggestions lie a click from their place", async () => {
  await open(bridge.replace('x="30"', 'x="16.2"').replace(/<rect id="water".*/, ""));
  await show("findings");
  await settle(1000);
  const suggestion = session.state.explanation?.suggestions.find(({ change }) => change.kind === "setting");
  expect(suggestion).toBeDefined();
  const apply = [...find("tuck-findings-view").shadowRoot!.querySelectorAll("button")].find(
    ({ textContent }) => textContent?.trim() === "Apply",
  );
  apply?.click();
  await settle();
  expect(editor.read()).toContain('data-tuck-settings="jumpThresholdMm=');
  expect(session.state.plan?.metrics.strands).toBe(1);
});

it("the settings form has a label and a field for every setting", async () => {
  await open();
  const { shadowRoot } = find("tuck-settings-form");
  const details = find("details") as HTMLDetailsElement;
  details.open = true;
  details.dispatchEvent(new Event("toggle"));
  await settle();
  const fields = [...shadowRoot!.querySelectorAll("input, select")];
  for (const field of fields)
    expect(shadowRoot!.querySelector(`label[for="${field.id}"]`)?.textContent).toBeTruthy();
  expect(fields.length).toBe(Object.keys(session.state.settings).length);
});
