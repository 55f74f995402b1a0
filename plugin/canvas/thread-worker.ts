/** The entry of the painter's worker: scenes come in, bitmaps go out. */
import { ThreadPainter } from "./thread-painter.ts";
import type { FrameMessage, SceneMessage } from "./thread-scene.ts";

/** As much of a worker's global scope as is needed. */
interface Scope {
  onmessage: ((event: MessageEvent<SceneMessage>) => void) | null;
  postMessage(message: FrameMessage, transfer: Transferable[]): void;
}

const scope = globalThis as unknown as Scope;

// A message to oneself comes after those that wait already, and sooner than a timer would.
const { port1, port2 } = new MessageChannel();
const waiting: (() => void)[] = [];
port2.onmessage = () => waiting.shift()?.();

const painter = new ThreadPainter({
  now: () => performance.now(),
  turn: () =>
    new Promise((resolve) => {
      waiting.push(resolve);
      port1.postMessage(null);
    }),
  show: async ({ pixels, width, ...part }) => {
    const bitmap = await createImageBitmap(new ImageData(pixels, width));
    scope.postMessage({ ...part, bitmap }, [bitmap]);
  },
});

scope.onmessage = ({ data }) => {
  void painter.take(data);
};
