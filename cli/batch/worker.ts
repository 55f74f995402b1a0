/** What runs in a worker thread: one drawing after the other, each told of when its planning starts. */
import { parentPort, workerData } from "node:worker_threads";
import { type DrawingBytes, type DrawingResult, planDrawing } from "./plan-drawing.ts";
import type { Task } from "./pool.ts";
import type { BatchRequest } from "./request.ts";

export default function work({ id, job }: Task<DrawingBytes>): Promise<DrawingResult> {
  parentPort?.postMessage({ started: id });
  return planDrawing(job, workerData as BatchRequest);
}
