/** What the canvas says, to those who hear it rather than see it, and in its few labels. */
import type { Severity } from "../../core/findings.ts";
import type { ConnectorKind } from "../../core/routing/types.ts";

const KINDS: Readonly<Record<ConnectorKind, string>> = {
  tucked: "tucked under later cover",
  blended: "along a seam of its own colour",
  hop: "a hop",
  jump: "a jump, the thread is cut",
};

const POINTS = { entry: "Entry", exit: "Exit" } as const;

export const canvasTexts = {
  markers: "Entries and exits",
  marker: (point: "entry" | "exit", order: number, piece: string, isPinned: boolean) =>
    `${POINTS[point]} ${order}, ${piece}${isPinned ? ", pinned" : ""}`,
  markerHelp:
    "Arrow keys move it by one millimetre, Enter drops it, Escape gives up, Delete releases a pin; Page Up and Page Down go to other markers.",
  willBeTucked: "will be tucked",
  willShow: "stays in sight",
  moved: (isTucked: boolean, xMm: number, yMm: number) =>
    `${isTucked ? "Will be tucked" : "Stays in sight"}, at ${xMm.toFixed(1)}, ${yMm.toFixed(1)} millimetres`,
  dropped: "Dropped",
  givenUp: "As it was",
  released: "Released",

  connectors: "Connectors",
  connector: (from: string, to: string, kind: ConnectorKind) =>
    `Connector from ${from} to ${to}, ${KINDS[kind]}`,
  connectorHelp:
    "Enter adds a point that it leads through; arrow keys move it by one millimetre, Enter drops it, Escape gives up, Delete lets the connector find its own way; Page Up and Page Down go to other connectors.",
  bendPoint: (place: number, from: string, to: string) =>
    `Point ${place} of the connector from ${from} to ${to}`,

  findings: "Findings",
  severity: { info: "Note", warning: "Warning", error: "Error" } satisfies Record<Severity, string>,
  finding: (severity: string, message: string, others: number) =>
    others > 0 ? `${severity}: ${message} And ${others} more here.` : `${severity}: ${message}`,

  angle: (piece: string) => `Angle of the rows of ${piece}`,
  degrees: (angleDeg: number) => `${angleDeg}°`,
  /** Of rows whose angle nobody set. */
  degreesByPlan: (angleDeg: number) => `${angleDeg}° by the plan`,
} as const;
