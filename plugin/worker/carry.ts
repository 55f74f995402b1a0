/**
 * Answers of the planner as bytes, and back: how a plan that the local server made comes to the page. Little-endian
 * numbers throughout, as every processor that runs this has them: how long the text is, the record as JSON without
 * its coordinates, and these as they lie in memory, from the next place that eight divides.
 */
import type { PlanPicture } from "../canvas/picture.ts";
import type { PackedPlan, PackedShapes } from "./pack.ts";
import type { Planned } from "./protocol.ts";

type Bytes = Uint8Array<ArrayBuffer>;

const LENGTH_BYTES = 4;
const toEight = (bytes: number): number => Math.ceil(bytes / 8) * 8;

export function bytesOfPlan(planned: Planned): Bytes {
  const { plan, shapes, ...rest } = planned;
  const { coordinates: points, ...planRecord } = plan;
  const { coordinates: outlines, ...shapesRecord } = shapes;
  const counts = { points: points.length, outlines: outlines.length };
  const text = new TextEncoder().encode(
    JSON.stringify({ ...rest, plan: planRecord, shapes: shapesRecord, counts }),
  );
  const pointsAt = toEight(LENGTH_BYTES + text.length);
  const outlinesAt = pointsAt + points.byteLength;
  const bytes = new Uint8Array(outlinesAt + outlines.byteLength);
  new DataView(bytes.buffer).setUint32(0, text.length, true);
  bytes.set(text, LENGTH_BYTES);
  new Float64Array(bytes.buffer, pointsAt, points.length).set(points);
  new Float32Array(bytes.buffer, outlinesAt, outlines.length).set(outlines);
  return bytes;
}

export function planOfBytes(buffer: ArrayBuffer): Planned {
  const length = new DataView(buffer).getUint32(0, true);
  const { counts, plan, shapes, ...rest } = JSON.parse(
    new TextDecoder().decode(new Uint8Array(buffer, LENGTH_BYTES, length)),
  );
  const pointsAt = toEight(LENGTH_BYTES + length);
  const points = new Float64Array(buffer, pointsAt, counts.points);
  const outlines = new Float32Array(buffer, pointsAt + points.byteLength, counts.outlines);
  return {
    ...rest,
    plan: { ...plan, coordinates: points } as PackedPlan,
    shapes: { ...shapes, coordinates: outlines } as PackedShapes,
  };
}

const SIZE_BYTES = 8;

export function bytesOfPicture({ width, height, pixels }: PlanPicture): Bytes {
  const bytes = new Uint8Array(SIZE_BYTES + pixels.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(0, width, true);
  view.setUint32(4, height, true);
  bytes.set(pixels, SIZE_BYTES);
  return bytes;
}

export function pictureOfBytes(buffer: ArrayBuffer): PlanPicture {
  const view = new DataView(buffer);
  return {
    width: view.getUint32(0, true),
    height: view.getUint32(4, true),
    pixels: new Uint8ClampedArray(buffer, SIZE_BYTES),
  };
}
