/** The layer of connectors: solid where tucked, long dashes along a seam, dashed where the thread hops, dotted where the machine jumps. */
import type { Connector, ConnectorKind } from "../routing/types.ts";
import { haloStyle, inkStyle } from "./ink.ts";
import { type Drawing, layer } from "./layer.ts";
import { pathData, plainNumber } from "./user-units.ts";

const DASH_MM: Readonly<Record<ConnectorKind, readonly number[] | undefined>> = {
  tucked: undefined,
  blended: [1.6, 0.4],
  hop: [0.8, 0.5],
  // A dash of (almost) no length under a round cap is a dot.
  jump: [0.01, 0.6],
};

/** One path a connector; below them all, one path that is the halo of each. */
export function connectorsLayer(connectors: readonly Connector[], drawing: Drawing): string {
  const { svg, user } = drawing;
  const halo =
    connectors.length === 0
      ? []
      : [
          svg.element("path", {
            "data-tuck-part": "halo",
            d: pathData(
              connectors.map(({ points }) => points),
              user,
            ),
            style: haloStyle(user),
          }),
        ];
  return layer("connectors", drawing, [
    ...halo,
    ...connectors.map((connector) => connectorPath(connector, drawing)),
  ]);
}

const connectorPath = (connector: Connector, { svg, user }: Drawing): string => {
  const { from, to, kind, reason, bend } = connector;
  const d = pathData([connector.points], user);
  const tuckedMm = plainNumber(connector.tuckedMm, 3);
  const exposedMm = plainNumber(connector.exposedMm, 3);
  return svg.element(
    "path",
    {
      "data-tuck-from": from,
      "data-tuck-to": to,
      "data-tuck-kind": kind,
      "data-tuck-tucked-mm": tuckedMm,
      "data-tuck-exposed-mm": exposedMm,
      "data-tuck-blended-mm":
        connector.blendedMm === undefined ? undefined : plainNumber(connector.blendedMm, 3),
      "data-tuck-reason": kind === "jump" ? (reason ?? "") : undefined,
      ...(kind === "jump" ? {} : { "data-tuck-planned": d }),
      "data-tuck-through":
        bend === undefined || bend.by === "element"
          ? undefined
          : bend.through.map((p) => user.point(p, " ")).join(" "),
      "data-tuck-over": bend?.over,
      d,
      style: inkStyle(user, DASH_MM[kind]),
    },
    [
      svg.text(
        "title",
        `${from} to ${to}, ${kind}${bend === undefined ? "" : ", bent"}: ${tuckedMm} mm under the cover, ${exposedMm} mm exposed${reason === undefined ? "" : `. ${reason}`}`,
      ),
    ],
  );
};
