/** The page with editor and panel, as tests look at it and work with it. */
import type { Locator, Page } from "playwright-core";
import type { Point } from "../../../core/geometry/types.ts";
import type { PanelState } from "../../../plugin/panel/state.ts";

/** What a test wants to know of the state: plain figures and names. */
export interface Seen {
  readonly serial: number;
  readonly isPlanning: boolean;
  readonly problem: string | null;
  readonly fileName: string | null;
  readonly strands: number;
  readonly trims: number;
  readonly connectorMm: number;
  readonly pieces: readonly {
    readonly id: string;
    readonly entry: Point;
    readonly exit: Point;
    readonly entryPinned: boolean;
    readonly exitPinned: boolean;
  }[];
  readonly connectors: readonly { readonly id: string; readonly kind: string; readonly isBent: boolean }[];
  readonly selected: readonly string[];
  readonly pointed: unknown;
  readonly at: number | null;
  readonly isPlaying: boolean;
  readonly hasLayers: boolean;
  readonly findings: readonly string[];
  readonly userToMm: readonly number[];
}

export const seen = (page: Page): Promise<Seen> =>
  page.evaluate(() => {
    const { state } = (document.querySelector("tuck-panel") as unknown as { session: { state: PanelState } })
      .session;
    const { plan, planning, player } = state;
    return {
      serial: state.planSerial,
      isPlanning: planning !== null,
      problem: state.problem?.message ?? null,
      fileName: state.fileName,
      strands: plan?.metrics.strands ?? 0,
      trims: plan?.metrics.trims ?? 0,
      connectorMm: plan?.metrics.connectorMm ?? 0,
      pieces: (plan?.pieces ?? []).map(({ id, entry, exit, entryPinned, exitPinned }) => ({
        id,
        entry,
        exit,
        entryPinned,
        exitPinned,
      })),
      connectors: (plan?.connectors ?? []).map(({ id, kind, bend }) => ({
        id,
        kind,
        isBent: bend !== undefined,
      })),
      selected: state.selected,
      pointed: state.pointed,
      at: player.at,
      isPlaying: player.isPlaying,
      hasLayers: state.facts?.hasLayers ?? false,
      findings: (plan?.findings ?? []).map(({ code }) => code),
      userToMm: plan?.userToMm ?? [],
    };
  });

/** Waits until a plan newer than `than` is there and nothing is being planned. */
export async function planned(page: Page, than = 0): Promise<Seen> {
  await page.waitForFunction(
    (serial) => {
      const panel = document.querySelector("tuck-panel") as unknown as {
        session: { state: PanelState };
      } | null;
      const state = panel?.session.state;
      return state !== undefined && state.planSerial > serial && state.planning === null;
    },
    than,
    { timeout: 60_000 },
  );
  return seen(page);
}

/** Does something that makes a new plan, and waits for it. */
export async function replanned(page: Page, work: () => Promise<unknown>): Promise<Seen> {
  const { serial } = await seen(page);
  await work();
  return planned(page, serial);
}

export const marker = (page: Page, point: "entry" | "exit", piece: string): Locator =>
  page.locator(`.marker[data-point="${point}"][data-piece="${piece}"]`);

/** Where a marker's point is on the screen. */
export const placeOfMarker = (page: Page, point: "entry" | "exit", piece: string): Promise<Point> =>
  marker(page, point, piece).evaluate((group) => {
    const { e, f } = (group as SVGGElement).getScreenCTM()!;
    return [e, f] as const;
  });

/** How many pixels of the screen a millimetre takes: measured between two markers. */
export async function pxPerMm(page: Page): Promise<number> {
  const transform = await page.locator(".connectors > g").first().getAttribute("transform");
  const [a, b] = /matrix\(([-\d.e]+) ([-\d.e]+)/
    .exec(transform ?? "")!
    .slice(1)
    .map(Number);
  return Math.hypot(a, b);
}

export async function drag(page: Page, from: Point, to: Point): Promise<void> {
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2, { steps: 3 });
  await page.mouse.move(...to, { steps: 3 });
  await page.mouse.up();
}

/** Opens one of the panel's views. */
export const view = (page: Page, name: RegExp): Promise<void> => page.getByRole("tab", { name }).click();
