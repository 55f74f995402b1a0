/** The planning worker: what it answers, how far it says it is, and how it is stopped. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { createMemory } from "../../core/memory.ts";
import { makePlan, planArtwork, readDrawing, sequenceOf } from "../../core/plan/make-plan.ts";
import type { Plan } from "../../core/plan/types.ts";
import { DEFAULT_SETTINGS } from "../../core/settings.ts";
import { stitcherFor } from "../../core/techniques/stitcher.ts";
import { snapperFor } from "../../plugin/panel/snap.ts";
import { Cancelled, type Watch, watchedMemory } from "../../plugin/worker/cancel.ts";
import { bytesOfPicture, bytesOfPlan, pictureOfBytes, planOfBytes } from "../../plugin/worker/carry.ts";
import { createClient, JobFailed, type PlannerClient } from "../../plugin/worker/client.ts";
import { withFirstPlan } from "../../plugin/worker/first-plan.ts";
import { packPlan, packShapes, unpackPlan } from "../../plugin/worker/pack.ts";
import { createPlanner } from "../../plugin/worker/planner.ts";
import type { FromWorker, PlanJob, ToWorker } from "../../plugin/worker/protocol.ts";
import { type Port, serve } from "../../plugin/worker/serve.ts";
import { seededRandom } from "../support/random-region.ts";
import { clientHere, workerHere } from "./fake-editor.ts";

const bridge = readFileSync("fixtures/cases/bridge-later.svg", "utf8");
const job = (svgText = bridge, given: PlanJob["given"] = {}): PlanJob => ({
  svgText,
  name: "bridge.svg",
  given,
});
const unwatched: Watch = { isCancelled: () => false, progress: () => {} };
/** Where a piece is entered, to a thousandth of a millimetre. */
const entryOf = (plan: Pick<Plan, "pieces"> | undefined, piece: string) =>
  plan?.pieces.find(({ id }) => id === piece)?.entry.map((value) => Math.round(value * 1000) / 1000);

const hold = (text: string, attributes: string) => text.replace('id="blade-1"', `id="blade-1" ${attributes}`);

describe("what is handed over", () => {
  const plan = makePlan(bridge, "bridge.svg", DEFAULT_SETTINGS);

  it("is the plan, in one buffer that is not copied", () => {
    const packed = packPlan(plan);
    const sent = structuredClone(packed, { transfer: [packed.coordinates.buffer] });
    expect(packed.coordinates.length).toBe(0);
    expect(unpackPlan(sent)).toEqual(plan);
  });

  it("comes through as bytes, where the local server planned it", () => {
    const planner = createPlanner();
    const planned = planner({ kind: "plan", drawing: job() }, unwatched);
    expect(planOfBytes(bytesOfPlan(planned).buffer)).toEqual(planned);
    const picture = planner({ kind: "look", drawing: job(), width: 60, height: 60 }, unwatched);
    if (picture === null) throw new Error("nothing is sewn");
    expect(pictureOfBytes(bytesOfPicture(picture).buffer)).toEqual(picture);
  });

  it("lets the page find the point that planning would: on every piece, from anywhere", () => {
    const { artwork } = readDrawing(bridge, "bridge.svg", DEFAULT_SETTINGS);
    const { sequence } = sequenceOf(artwork, DEFAULT_SETTINGS);
    const snapper = snapperFor(packShapes(sequence.pieces));
    const random = seededRandom(7);
    for (const piece of sequence.pieces) {
      const { snap } = stitcherFor(piece, DEFAULT_SETTINGS);
      for (let n = 0; n < 40; n++) {
        const at = [random() * 44, random() * 20] as const;
        const [x, y] = snapper.nearest(piece.id, at);
        const [wantedX, wantedY] = snap(at);
        // Outlines travel in single precision: some 1e-6 of the coordinate.
        expect(Math.abs(x - wantedX) + Math.abs(y - wantedY)).toBeLessThan(1e-4);
      }
    }
  });

  it("tells what is tucked: where water is sewn over the blades, and nowhere for the water itself", () => {
    const { artwork } = readDrawing(bridge, "bridge.svg", DEFAULT_SETTINGS);
    const snapper = snapperFor(packShapes(sequenceOf(artwork, DEFAULT_SETTINGS).sequence.pieces));
    expect(snapper.isTucked("blade-1", [9, 12])).toBe(true);
    expect(snapper.isTucked("blade-1", [9, 6])).toBe(false);
    expect(snapper.isTucked("water", [9, 12])).toBe(false);
  });
});

describe("the planner", () => {
  it("shows how it will be sewn, in true proportions, as large as fits", () => {
    const picture = createPlanner()({ kind: "look", drawing: job(), width: 300, height: 1000 }, unwatched);
    const { size } = makePlan(bridge, "bridge.svg", DEFAULT_SETTINGS);
    expect(picture?.width).toBe(300);
    expect(picture?.height).toBe(Math.round((300 * size.heightMm) / size.widthMm));
    expect(picture?.pixels).toHaveLength(4 * 300 * (picture?.height ?? 0));
    // In the middle of the water lies thread; in the corner of the page, fabric.
    const opacityAt = (xMm: number, yMm: number) => {
      const [x, y] = [xMm, yMm].map((mm) => Math.round((mm * 300) / size.widthMm));
      return picture?.pixels[4 * (300 * y + x) + 3];
    };
    expect(opacityAt(0.5, 0.5)).toBe(0);
    expect(opacityAt(22, 12)).toBe(255);
  });

  it("shows nothing where nothing is sewn", () => {
    const empty = job('<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm"/>');
    const planner = createPlanner();
    expect(planner({ kind: "look", drawing: empty, width: 300, height: 300 }, unwatched)).toBeNull();
  });

  it("practises without a trace: the next plan is what it would have been", () => {
    const planner = createPlanner();
    const before = planner({ kind: "plan", drawing: job() }, unwatched);
    for (const share of [0, 0.5, 0.99])
      expect(planner({ kind: "rehearse", drawing: job(), share }, unwatched)).toBeNull();
    expect(planner({ kind: "plan", drawing: job() }, unwatched)).toEqual(before);
    const empty = job('<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm"/>');
    expect(createPlanner()({ kind: "rehearse", drawing: empty, share: 0 }, unwatched)).toBeNull();
  });

  it("plans as the core does, with what is given beside the drawing and what the drawing says itself", () => {
    const planner = createPlanner();
    const given = { tuckMarginMm: 1.2 };
    const text = bridge.replace("<title>", '<metadata data-tuck-settings="fillSpacingMm=0.5"/><title>');
    const { plan, drawing } = planner({ kind: "plan", drawing: job(text, given) }, unwatched);
    const settings = { ...DEFAULT_SETTINGS, tuckMarginMm: 1.2, fillSpacingMm: 0.5 };
    expect(unpackPlan(plan)).toEqual(makePlan(text, "bridge.svg", settings));
    expect(drawing.settings).toEqual({ fillSpacingMm: 0.5 });
  });

  it("keeps the artwork where only marks changed, and the plan is that from scratch", () => {
    const planner = createPlanner();
    planner({ kind: "plan", drawing: job() }, unwatched);
    const pinned = hold(bridge, 'data-tuck-entry="6 4"');
    const { plan, drawing } = planner({ kind: "plan", drawing: job(pinned) }, unwatched);
    expect(entryOf(plan, "blade-1")).toEqual([6, 4]);
    expect(drawing.marks.pins).toMatchObject([{ piece: "blade-1", point: "entry", by: "element" }]);
    expect(unpackPlan(plan)).toEqual(makePlan(pinned, "bridge.svg", DEFAULT_SETTINGS));
  });

  it("judges moves: water may not go below the blades that it covers", () => {
    const planner = createPlanner();
    const refused = planner({ kind: "judge", drawing: job(), pieces: ["water"], after: null }, unwatched);
    expect(refused).toMatchObject({ isLegal: false, edits: [], nearest: { after: "blade-2" } });
    const blades = planner({ kind: "judge", drawing: job(), pieces: ["blade-2"], after: null }, unwatched);
    expect(blades.isLegal).toBe(true);
    expect(blades.edits.length).toBeGreaterThan(0);
  });

  it("writes every output, and layers that strip takes away byte for byte", () => {
    const planner = createPlanner();
    for (const name of ["json", "machine", "csv", "sheet", "picture", "planned"] as const) {
      const file = planner({ kind: "output", name, drawing: job() }, unwatched);
      expect(file.fileName).toMatch(/^bridge\./);
      expect(file.content.length).toBeGreaterThan(500);
    }
    const { svgText } = planner({ kind: "layers", drawing: job() }, unwatched);
    expect(svgText).toContain('data-tuck-role="points"');
    expect(planner({ kind: "strip", svgText }, unwatched).svgText).toBe(bridge);
  });

  it("explains stops: two blades without water between them", () => {
    const bare = bridge.replace(/<rect id="water".*/, "");
    const { stops } = createPlanner()({ kind: "explain", drawing: job(bare) }, unwatched);
    expect(stops).toMatchObject([{ kind: "break", from: "blade-1", to: "blade-2" }]);
  });
});

describe("progress and stopping", () => {
  it("never goes back and never says it is done before it is", () => {
    const shares: number[] = [];
    const watch = { isCancelled: () => false, progress: (share: number) => shares.push(share) };
    createPlanner()({ kind: "plan", drawing: job() }, watch);
    expect(shares.length).toBeGreaterThan(3);
    expect(shares).toEqual([...shares].sort((a, b) => a - b));
    expect(Math.max(...shares)).toBeLessThan(1);
  });

  it("stops between two pieces of work, and what was worked out is kept", () => {
    const { artwork, marks } = readDrawing(bridge, "bridge.svg", DEFAULT_SETTINGS);
    const memory = createMemory();
    let worked = 0;
    const stopped = watchedMemory(memory, { isCancelled: () => worked >= 5, progress: () => {} }, 50);
    const counted = {
      ...stopped,
      recall: <T>(what: string, owners: readonly object[], work: () => T) =>
        stopped.recall(what, owners, () => {
          worked++;
          return work();
        }),
    };
    expect(() => planArtwork(artwork, marks, DEFAULT_SETTINGS, [], counted)).toThrow(Cancelled);
    expect(planArtwork(artwork, marks, DEFAULT_SETTINGS, [], memory)).toEqual(
      planArtwork(artwork, marks, DEFAULT_SETTINGS),
    );
  });

  it("is told by a number that both sides see", () => {
    const told: FromWorker[] = [];
    const port: Port = { onmessage: null, postMessage: (message) => told.push(message) };
    serve(port);
    const cancelled = new SharedArrayBuffer(4);
    const send = (data: ToWorker) => port.onmessage?.({ data });
    send({ kind: "hello", cancelled });
    Atomics.store(new Int32Array(cancelled), 0, 1);
    send({ kind: "plan", job: 1, drawing: job() });
    send({ kind: "plan", job: 2, drawing: job() });
    expect(told.filter(({ kind }) => kind !== "progress").map(({ kind }) => kind)).toEqual([
      "cancelled",
      "done",
    ]);
  });
});

describe("the client", () => {
  it("gives the answer of the newest plan only", async () => {
    const client = clientHere();
    const first = client.plan(job(), () => {});
    const second = client.plan(job(hold(bridge, 'data-tuck-entry="6 4"')), () => {});
    const third = client.plan(job(hold(bridge, 'data-tuck-entry="7 5"')), () => {});
    expect(await first).toBeNull();
    expect(await second).toBeNull();
    expect(entryOf((await third)?.plan, "blade-1")).toEqual([7, 5]);
  });

  it("shares a plan that is under way with whoever asks for the same, unless it was told to stop", async () => {
    let plans = 0;
    const client = createClient(() => {
      const worker = workerHere();
      const post = worker.postMessage;
      worker.postMessage = (message) => {
        if (message.kind === "plan") plans++;
        post(message);
      };
      return worker;
    });
    const shares: number[] = [];
    const [early, joined] = await Promise.all([
      client.plan(job(), () => {}),
      client.plan(job(), (share) => shares.push(share)),
    ]);
    expect(plans).toBe(1);
    expect(joined).toBe(early);
    expect(shares.length).toBeGreaterThan(3);

    const stopped = client.plan(job(hold(bridge, 'data-tuck-entry="6 4"')), () => {});
    client.cancelPlan();
    const again = client.plan(job(hold(bridge, 'data-tuck-entry="6 4"')), () => {});
    expect(await stopped).toBeNull();
    expect(entryOf((await again)?.plan, "blade-1")).toEqual([6, 4]);
  });

  it("says what is wrong with a drawing, where, and what to do", async () => {
    const failed = await clientHere()
      .plan(job("<svg><rect></svg>"), () => {})
      .catch((error) => error);
    expect(failed).toBeInstanceOf(JobFailed);
    expect(failed.problem.message).toMatch(/line 1|Line 1/);
    expect(failed.problem.remedy).not.toBe("");
  });

  it("says so where the worker itself fails, and starts another", async () => {
    let started = 0;
    const client = createClient(() => {
      started++;
      const worker = {
        onmessage: null,
        onerror: null as ((event: ErrorEvent) => void) | null,
        terminate: () => {},
        postMessage: (message: ToWorker) => {
          if (message.kind !== "hello") worker.onerror?.({ message: "out of memory" } as ErrorEvent);
        },
      };
      return worker;
    });
    for (const time of [1, 2]) {
      const failed = await client.plan(job(), () => {}).catch((error) => error);
      expect(failed.problem.message).toContain("out of memory");
      expect(started).toBe(time);
    }
  });
});

describe("a first plan that was made elsewhere", () => {
  const made = createPlanner()({ kind: "plan", drawing: job() }, unwatched);
  const firstOf = (planned: Promise<typeof made | null>) =>
    withFirstPlan(clientHere(), Promise.resolve({ job: job(), planned }));
  const entered = async (planner: PlannerClient, drawing: PlanJob) =>
    (await planner.plan(drawing, () => {}))?.plan.pieces.length;

  it("is given to who asks for that drawing, once; then the page plans", async () => {
    const planner = firstOf(Promise.resolve(made));
    expect(await planner.plan(job(), () => {})).toBe(made);
    const again = await planner.plan(job(), () => {});
    expect(again).not.toBe(made);
    expect(again).toEqual(made);
  });

  it("is for no other drawing, and nothing is waited for where it could not be made", async () => {
    const other = job(hold(bridge, 'data-tuck-technique="skip"'));
    expect(await entered(firstOf(Promise.resolve(made)), other)).toBe(made.plan.pieces.length - 1);
    expect(await entered(firstOf(Promise.resolve(null)), job())).toBe(made.plan.pieces.length);
    const none = withFirstPlan(clientHere(), Promise.resolve(null));
    expect(await entered(none, job())).toBe(made.plan.pieces.length);
  });

  it("is given up for a newer plan, and when planning is stopped", async () => {
    const never = new Promise<null>(() => {});
    const overtaken = firstOf(never);
    const first = overtaken.plan(job(), () => {});
    const newer = overtaken.plan(job(), () => {});
    expect(await first).toBeNull();
    expect(await newer).toEqual(made);
    const stopped = firstOf(never);
    const waiting = stopped.plan(job(), () => {});
    stopped.cancelPlan();
    expect(await waiting).toBeNull();
  });
});
