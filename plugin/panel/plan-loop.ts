/**
 * Keeps the plan in step with the drawing: has it planned when it changed, shows what comes of it, and drops
 * what belongs to an older drawing.
 */
import type { Plan } from "../../core/plan/types.ts";
import type { Settings } from "../../core/settings.ts";
import { cascadeSettings, type SettingsSource } from "../../core/settings-cascade.ts";
import type { EditorHost, PanelOptions } from "../editor-host.ts";
import type { PlayerState, Target } from "../session-types.ts";
import { texts } from "../texts.ts";
import { JobFailed, type PlannerClient } from "../worker/client.ts";
import { unpackPlan } from "../worker/pack.ts";
import { type PlanJob, type Planned, type Problem, planJob } from "../worker/protocol.ts";
import { type Snapper, snapperFor } from "./snap.ts";
import type { Store } from "./store.ts";
import { piecesOfElements } from "./targets.ts";

/** The artist's own changes are planned after a pause of so long: a drag sends many. */
const PAUSE_MS = 150;
/** Reasons and suggestions are worked out when nothing has happened for so long. */
const IDLE_MS = 800;

export interface PlanLoop {
  /** Of the newest drawing that was asked to be planned; `null` where there is none, or planning was stopped. */
  readonly newest: PlanJob | null;
  readonly snapper: Snapper;
  /** The drawing as it is now. */
  jobNow(): PlanJob;
  /** `isOwn`: after a change of the panel's, whose notice stays; any other has made it out of date. */
  replan(isOwn?: boolean): void;
  planSoon(): void;
  explain(): void;
  end(): void;
}

export function createPlanLoop(
  store: Store,
  host: EditorHost,
  client: PlannerClient,
  options: Pick<PanelOptions, "given" | "threads">,
): PlanLoop {
  const { given } = options;
  let snapper = snapperFor({ shapes: [], coordinates: new Float32Array(0) });
  let newest: PlanJob | null = null;
  let pause: ReturnType<typeof setTimeout> | undefined;
  let idle: ReturnType<typeof setTimeout> | undefined;

  const jobNow = (): PlanJob => planJob(host.read(), host.fileName() ?? texts.untitled, options);

  function replan(isOwn = false): void {
    clearTimeout(pause);
    clearTimeout(idle);
    const job = jobNow();
    if (newest !== null && job.svgText === newest.svgText && job.name === newest.name) return;
    newest = job;
    client.giveUpExplaining();
    const isOutOfDate = !isOwn && store.state.notice?.canUndo === true;
    store.update({
      planning: { share: 0 },
      fileName: host.fileName(),
      isExplaining: false,
      isStopped: false,
      ...(isOutOfDate ? { notice: null } : {}),
    });
    client
      .plan(job, (share) => {
        if (newest === job) store.update({ planning: { share } });
      })
      .then(
        (planned) => newest === job && (planned === null ? stopped() : show(planned)),
        (error) => newest === job && fail(error),
      );
  }

  function show(planned: Planned): void {
    const plan = unpackPlan(planned.plan);
    snapper = snapperFor(planned.shapes);
    store.update({
      plan,
      planSerial: store.state.planSerial + 1,
      explanation: null,
      planning: null,
      problem: null,
      facts: planned.drawing,
      threadUse: planned.threadUse,
      settings: plan.settings,
      inherited: settingsWithout(given, planned.drawing.settings),
      selected: piecesOfElements(plan, planned.drawing, store.state.selectedElements),
      pointed: stillThere(store.state.pointed, plan),
      player: keptPlace(store.state.player, plan),
    });
  }

  /** Asked to stop, it shows the plan that it had; the next change plans again. */
  function stopped(): void {
    newest = null;
    store.update({ planning: null, isStopped: true });
  }

  const fail = (error: unknown): void =>
    store.update({ plan: null, planning: null, explanation: null, selected: [], problem: problemOf(error) });

  function explain(): void {
    const job = newest;
    const { plan, explanation, isExplaining } = store.state;
    if (job === null || plan === null || explanation !== null || isExplaining) return;
    store.update({ isExplaining: true });
    idle = setTimeout(() => {
      client.explain(job).then(
        (found) => newest === job && store.update({ explanation: found, isExplaining: false }),
        () => newest === job && store.update({ isExplaining: false }),
      );
    }, IDLE_MS);
  }

  return {
    get newest() {
      return newest;
    },
    get snapper() {
      return snapper;
    },
    jobNow,
    replan,
    planSoon() {
      clearTimeout(pause);
      pause = setTimeout(() => replan(), PAUSE_MS);
    },
    explain,
    end() {
      clearTimeout(pause);
      clearTimeout(idle);
    },
  };
}

/** The player stands still at a new plan, as near to where it was as that goes. */
const keptPlace = (player: PlayerState, { metrics }: Plan): PlayerState => ({
  ...player,
  isPlaying: false,
  at: player.at === null ? null : Math.min(player.at, metrics.stitches),
});

/** What settings hold beside the drawing's own: what is given, and what the drawing's recipe says. */
export const settingsWithout = (
  given: SettingsSource["values"],
  { recipe }: SettingsSource["values"],
): Settings => ({
  ...cascadeSettings([{ origin: "given", values: recipe === undefined ? given : { ...given, recipe } }])
    .settings,
  recipe: cascadeSettings([{ origin: "given", values: given }]).settings.recipe,
});

export function problemOf(error: unknown): Problem {
  if (error instanceof JobFailed) return error.problem;
  const message = error instanceof Error ? error.message : String(error);
  return { message: texts.problems.unexpected(message), remedy: texts.problems.unexpectedRemedy };
}

/** What was pointed at, if the new plan still has it. */
function stillThere(target: Target | null, plan: Plan): Target | null {
  if (target === null) return null;
  if (target.kind === "piece") return plan.pieces.some(({ id }) => id === target.id) ? target : null;
  if (target.kind === "marker") return plan.pieces.some(({ id }) => id === target.piece) ? target : null;
  return null;
}
