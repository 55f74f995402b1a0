/** What other programs may use. Everything here is pure: text and records in, text and records out. */

export { type DrawnSetting, drawnSettings } from "./artwork/drawn-settings.ts";
export { readArtwork } from "./artwork/read.ts";
export {
  type Artwork,
  type Bend,
  type Marks,
  NO_MARKS,
  type OrderWish,
  type Piece,
  type PieceOverrides,
  type Pin,
  type Technique,
} from "./artwork/types.ts";
export { ArtworkError } from "./errors.ts";
export type { Finding, Severity } from "./findings.ts";
export type { Box, Matrix, Point, Polygon, Polyline, Region, Ring } from "./geometry/types.ts";
export { type MarkEdit, withMarks } from "./layers/edit-marks.ts";
export { MARK_ATTRIBUTES, pinAttribute } from "./layers/element-marks.ts";
export { readMarks } from "./layers/read-marks.ts";
export { type ReadPins, readPins } from "./layers/read-pins.ts";
export { strip } from "./layers/strip.ts";
export { writeLayers } from "./layers/write.ts";
export { createMemory, type Memory } from "./memory.ts";
export { stitchCsv } from "./output/csv.ts";
export { type InspectedPiece, type Inspection, inspectDrawing, inspectPlan } from "./output/inspection.ts";
export { type PlanDocument, planJson, serialisePlan } from "./output/json.ts";
export { machineFile } from "./output/machine.ts";
export { isMachineFile, type MachineDesign, readMachineFile } from "./output/machine-reader.ts";
export { type PictureOptions, pictureSvg } from "./output/picture.ts";
export { PLAN_SCHEMA } from "./output/plan-schema.ts";
export { runSheet } from "./output/run-sheet/page.ts";
export type { WriteOptions, Writer } from "./output/writer.ts";
export { WRITERS } from "./output/writers.ts";
export { applyChange, type Change, changeAsEdits, changeInWords, type PlanInputs } from "./plan/changes.ts";
export { type Explanation, explain, planWith, type Stop, type Suggestion } from "./plan/explain.ts";
export { type Handles, handlesOf } from "./plan/handles.ts";
export { makePlan, planArtwork, readDrawing } from "./plan/make-plan.ts";
export { paintSewOut, type SewOut, visibleShare } from "./plan/sew-out.ts";
export { type ThreadUse, threadUse } from "./plan/thread-use.ts";
export type {
  Metrics,
  PlainMetrics,
  Plan,
  PlannedPiece,
  SewingStep,
  SewnRole,
  SewnStep,
} from "./plan/types.ts";
export type { UnderlayKind } from "./recipes/advice.ts";
export { RECIPE_NAMES, type RecipeName } from "./recipes/fabrics.ts";
export { allRecipes, type Recipe, type RecipeFigure, recipeNamed } from "./recipes/recipes.ts";
export type { Connector, ConnectorKind } from "./routing/types.ts";
export { type LegalMoves, legalMoves, type MoveVerdict } from "./sequence/legal-moves.ts";
export { DEFAULT_SETTINGS, type Settings } from "./settings.ts";
export { cascadeSettings, type EffectiveSettings, type SettingsSource } from "./settings-cascade.ts";
export { DRAWING_ORIGIN, settingsEdit, settingsInDrawing } from "./settings-in-drawing.ts";
export { SETTINGS_SCHEMA } from "./settings-json-schema.ts";
export {
  rangeOf,
  SETTING_NAMES,
  SETTINGS_TABLE,
  type SettingInfo,
  type SettingName,
  SettingsError,
  settingFromText,
  settingsWith,
} from "./settings-schema.ts";
export { lockstitchRatio, lockstitchThread, type ThreadLengths } from "./threads/consumption.ts";
export { type Count, convertCount, resultantCount } from "./threads/count.ts";
export { colourDifference } from "./threads/difference.ts";
export { mapToThreads, type ThreadMatch } from "./threads/map-to-threads.ts";
export { readThreadList, ThreadListError } from "./threads/read-thread-list.ts";
export { reduceColours, reductionLoss, type WeightedColour } from "./threads/reduce-colours.ts";
export { type ThreadChoice, threadArtwork } from "./threads/thread-artwork.ts";
export type { Thread, ThreadLabel } from "./threads/types.ts";
