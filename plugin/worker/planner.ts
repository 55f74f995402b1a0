/**
 * What the worker does with each request: pure but for what it remembers of the drawing and the plan before, so
 * that planning again does only what a change touches. Knows nothing of messages and threads.
 */
import type { Marks } from "../../core/artwork/types.ts";
import { withMarks } from "../../core/layers/edit-marks.ts";
import { readMarks } from "../../core/layers/read-marks.ts";
import { strip } from "../../core/layers/strip.ts";
import { writeLayers } from "../../core/layers/write.ts";
import { createMemory, type Memory } from "../../core/memory.ts";
import { explain } from "../../core/plan/explain.ts";
import { planArtwork, sequenceOf } from "../../core/plan/make-plan.ts";
import { threadUse } from "../../core/plan/thread-use.ts";
import type { Plan } from "../../core/plan/types.ts";
import { type LegalMoves, legalMoves } from "../../core/sequence/legal-moves.ts";
import { paintPlan } from "../canvas/picture.ts";
import { type Watch, watchedMemory } from "./cancel.ts";
import { writeOutput } from "./outputs.ts";
import { packPlan, packShapes } from "./pack.ts";
import type { Answers, LeftOut, PlanJob, Request } from "./protocol.ts";
import { jobReader, type ReadJob } from "./read-job.ts";

export type Planner = <R extends Request>(request: R, watch: Watch) => Answers[R["kind"]];

/** Pieces of work for a piece of the drawing in a plan from scratch: measured on the demo crest. */
const WORK_PER_PIECE = 15;

/** How far a marker is moved for practice, each way. */
const ASIDE_MM = 0.5;

interface PlannedJob {
  readonly job: string;
  readonly read: ReadJob;
  readonly plan: Plan;
  moves: LegalMoves | null;
}

/** Its answers throw `Cancelled` where the watch says so, `ArtworkError` and `SettingsError` as planning does. */
export function createPlanner(): Planner {
  const memory = createMemory();
  const read = jobReader();
  let newest: PlannedJob | null = null;

  function planned(job: PlanJob, watch: Watch): PlannedJob {
    const key = JSON.stringify(job);
    if (newest?.job === key) return newest;
    const drawing = read(job);
    const watched = watchedMemory(memory, watch, 1 + WORK_PER_PIECE * drawing.artwork.pieces.length);
    newest = { job: key, read: drawing, plan: planOf(drawing, watched), moves: null };
    return newest;
  }

  const answers: { readonly [K in Request["kind"]]: (request: RequestOf<K>, watch: Watch) => Answers[K] } = {
    plan({ drawing: job }, watch) {
      const { read, plan } = planned(job, watch);
      const { sequence } = sequenceOf(read.artwork, read.settings, read.marks, memory);
      return {
        plan: packPlan(plan),
        threadUse: threadUse(plan),
        drawing: read.facts,
        shapes: packShapes(sequence.pieces),
      };
    },
    look({ drawing: job, width, height }, watch) {
      const { plan } = planned(job, watch);
      return plan.pieces.length === 0 ? null : paintPlan(plan, { width, height });
    },
    rehearse({ drawing: job, share }, watch) {
      const { read, plan } = planned(job, watch);
      const piece = plan.pieces[Math.floor(share * plan.pieces.length)];
      if (piece === undefined) return null;
      const [x, y] = piece.exit;
      const pin = { piece: piece.id, point: "exit", at: [x + ASIDE_MM, y - ASIDE_MM] } as const;
      const marks = { ...read.marks, pins: [...read.marks.pins, pin] };
      packPlan(planOf({ ...read, marks }, memory));
      return null;
    },
    explain({ drawing: job }) {
      const { artwork, marks, settings } = read(job);
      const { stops, suggestions } = explain(artwork, marks, settings);
      return { stops, suggestions };
    },
    output({ drawing: job, name }, watch) {
      return writeOutput(name, planned(job, watch).plan, job);
    },
    layers({ drawing: job, edits = [], without }, watch) {
      const edited = { ...job, svgText: withMarks(job.svgText, edits) };
      if (without === undefined) return { svgText: writeLayers(edited.svgText, planned(edited, watch).plan) };
      const drawing = read(edited);
      const onElements = readMarks(strip(edited.svgText), drawing.artwork).marks;
      const plan = planOf({ ...drawing, marks: marksWithout(drawing.marks, without, onElements) }, memory);
      return { svgText: writeLayers(edited.svgText, plan) };
    },
    strip({ svgText }) {
      return { svgText: strip(svgText) };
    },
    judge({ drawing: job, pieces, after }, watch) {
      const current = planned(job, watch);
      if (current.moves === null) {
        const { artwork, settings } = current.read.alone();
        current.moves = legalMoves(artwork, current.read.marks.after, settings, memory);
      }
      const membersOf = (id: string): readonly string[] =>
        (current.plan.pieces.find((piece) => piece.id === id)?.members ?? [id]).map(ofFirstCopy);
      const { moves } = current;
      const placeOf = (id: string): number => moves.order.indexOf(id);
      const lastOf = (id: string): string => [...membersOf(id)].sort((a, b) => placeOf(b) - placeOf(a))[0];
      return moves.judge(pieces.flatMap(membersOf), after === null ? null : lastOf(after));
    },
  };
  return <R extends Request>(request: R, watch: Watch) =>
    answers[request.kind as R["kind"]](request as never, watch) as Answers[R["kind"]];
}

type RequestOf<K extends Request["kind"]> = Extract<Request, { readonly kind: K }>;

const planOf = ({ artwork, source, marks, settings, findings }: ReadJob, memory: Memory): Plan => ({
  ...planArtwork(artwork, marks, settings, findings, memory),
  source,
});

/** On a sheet the order is that of the first copy, which has no prefix. */
const ofFirstCopy = (id: string): string => id.replace(/^copy-\d+\//, "");

/** The marks without some that layers stand for; what elements say in their place holds. */
function marksWithout(marks: Marks, { pins = [], bends = [] }: LeftOut, onElements: Marks): Marks {
  const isPin = (pin: Marks["pins"][number]) =>
    pins.some(({ piece, point }) => piece === pin.piece && point === pin.point);
  const isBend = (bend: Marks["bends"][number]) =>
    bends.some(({ from, to }) => bend.from.includes(from) && to === bend.to);
  return {
    ...marks,
    pins: [...marks.pins.filter((pin) => !isPin(pin)), ...onElements.pins.filter(isPin)],
    bends: [...marks.bends.filter((bend) => !isBend(bend)), ...onElements.bends.filter(isBend)],
  };
}
