/**
 * The painter of threads keeps the layers of the newest scene, and paints whatever they lack. The newest scene
 * wins; but a picture that is nearly done is finished first, so that something is seen while the artist pans.
 */
import type { PixelSheet } from "./pixel-sheet.ts";
import type { PaintedTrack, SheetView, ThreadLayer } from "./thread-layer.ts";
import {
  outlineSheet,
  type Scene,
  type SceneMessage,
  type ThreadLayerName,
  threadLayer,
} from "./thread-scene.ts";

/** New pixels of one layer, before they become a bitmap. */
export interface PaintedPart {
  readonly serial: number;
  readonly layer: ThreadLayerName;
  readonly view: SheetView;
  readonly isWhole: boolean;
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly pixels: Uint8ClampedArray<ArrayBuffer>;
  readonly at: number;
}

/** Painting goes on for so long before the painter looks whether a newer scene has come. */
const SLICE_MS = 12;
/** A picture that takes longer than this is given up for a newer scene. */
const FINISH_WITHIN_MS = 300;

interface Surroundings {
  /** Lets messages come in. */
  turn(): Promise<void>;
  now(): number;
  show(part: PaintedPart): Promise<void>;
}

const EMPTY_TRACK: PaintedTrack = { count: 0, ends: new Float32Array(), spans: [] };
const NO_VIEW: SheetView = { width: 0, height: 0, toPx: [1, 0, 0, 1, 0, 0], pxPerCssPx: 1 };

export class ThreadPainter {
  readonly #around: Surroundings;
  #scene: Scene = {
    track: EMPTY_TRACK,
    view: NO_VIEW,
    sewOut: null,
    stitches: null,
    emphasis: [],
    isScrubbed: false,
  };
  #serial = 0;
  #isBusy = false;
  /** What each layer was made for; another track or view makes it anew. */
  readonly #layers = new Map<"sew-out" | "stitches", Made<ThreadLayer>>();
  #outlined: (Made<PixelSheet> & { readonly emphasis: Scene["emphasis"] }) | null = null;

  constructor(around: Surroundings) {
    this.#around = around;
  }

  /** Takes a message in and paints until nothing is missing. */
  async take({ serial, ...changes }: SceneMessage): Promise<void> {
    this.#scene = { ...this.#scene, ...changes };
    this.#serial = serial;
    if (this.#isBusy) return;
    this.#isBusy = true;
    let done: number;
    do {
      done = this.#serial;
      await this.#paintScene(this.#scene, done);
    } while (done !== this.#serial);
    this.#isBusy = false;
  }

  async #paintScene(scene: Scene, serial: number): Promise<void> {
    if (scene.view.width === 0 || scene.view.height === 0) return;
    await this.#outline(scene, serial);
    if (scene.sewOut !== null) await this.#sew("sew-out", scene.sewOut, scene, serial);
    if (scene.stitches !== null) await this.#sew("stitches", scene.stitches, scene, serial);
  }

  async #sew(name: "sew-out" | "stitches", wanted: number, scene: Scene, serial: number): Promise<void> {
    const { track, view } = scene;
    let made = this.#layers.get(name);
    if (!isMadeFor(made, scene)) {
      made = { track, view, thing: threadLayer(track, view, name) };
      this.#layers.set(name, made);
    }
    const layer = made.thing;
    const at = Math.min(wanted, track.count);
    const begun = this.#around.now();
    let sliceEnd = begun + SLICE_MS;
    while (!layer.paint(at, scene.isScrubbed, () => this.#around.now() < sliceEnd)) {
      await this.#around.turn();
      sliceEnd = this.#around.now() + SLICE_MS;
      if (serial !== this.#serial && sliceEnd - begun > FINISH_WITHIN_MS) return;
    }
    await this.#show(name, layer.sheet, scene, serial, at);
  }

  async #outline(scene: Scene, serial: number): Promise<void> {
    const { track, view, emphasis } = scene;
    if (isMadeFor(this.#outlined, scene) && this.#outlined.emphasis === emphasis) return;
    const wasEmpty = this.#outlined === null || this.#outlined.emphasis.length === 0;
    const thing = outlineSheet(track, view, emphasis);
    this.#outlined = { track, view, emphasis, thing };
    if (wasEmpty && emphasis.length === 0) return;
    await this.#show("emphasis", thing, scene, serial, 0);
  }

  async #show(
    layer: ThreadLayerName,
    sheet: PixelSheet,
    scene: Scene,
    serial: number,
    at: number,
  ): Promise<void> {
    const box = sheet.takeTouched();
    if (box === null) return;
    const { left, top, right, bottom } = box;
    await this.#around.show({
      serial,
      layer,
      view: scene.view,
      isWhole: left === 0 && top === 0 && right === sheet.width && bottom === sheet.height,
      x: left,
      y: top,
      width: right - left,
      pixels: sheet.straight(box),
      at,
    });
  }
}

interface Made<T> {
  readonly track: PaintedTrack;
  readonly view: SheetView;
  readonly thing: T;
}

const isMadeFor = <T extends Made<unknown>>(made: T | null | undefined, { track, view }: Scene): made is T =>
  made?.track === track && made.view === view;
