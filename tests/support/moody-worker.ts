/** A worker for the pool that plans nothing: it does what the drawing's name says. */
import { parentPort } from "node:worker_threads";

interface MoodyTask {
  readonly id: number;
  readonly job: { readonly fileName: string };
}

export default function work({ id, job }: MoodyTask): unknown {
  parentPort?.postMessage({ started: id });
  if (job.fileName.startsWith("hangs")) for (;;);
  if (job.fileName.startsWith("dies")) process.exit(1);
  if (job.fileName.startsWith("unsound")) return { status: "failed", message: "Nothing in it can be sewn." };
  const facts = { widthMm: 1, heightMm: 1, colours: [], metrics: {}, findings: [] };
  const files = { outputs: { json: new Uint8Array([123, 125]) }, thumbnail: new Uint8Array([1, 2, 3]) };
  return { status: "planned", facts, files };
}
