/** Every word that the page itself shows, beside the editor's and the panel's own. */
export const hostTexts = {
  newDrawing: "New drawing",
  open: "Open…",
  save: "Save",
  saveAs: "Save as…",
  openTitle: "Open a drawing",
  inFolder: (folder: string) => `In ${folder}:`,
  emptyFolder: "There are no drawings in this folder yet.",
  demo: "Try the demo crest",
  drawNew: "Draw something new",
  welcome: "What shall be sewn?",
  cancel: "Cancel",
  close: "Close",
  name: "Name",
  saveAsTitle: "Save as",
  saved: (name: string) => `Saved ${name}.`,
  changedOnDisk: (name: string) => `${name} was changed by another program since it was opened.`,
  changedOnDiskRemedy: "Save under another name to keep both, or replace what the other program wrote.",
  exists: (name: string) => `There is a drawing called ${name} already.`,
  existsRemedy: "Choose another name, or replace it.",
  replace: "Replace it",
  anotherName: "Another name…",
  unsaved: "The drawing has changes that are not saved.",
  unsavedRemedy: "Save them first, or let them go.",
  letGo: "Let them go",
  cannotOpen: (name: string, message: string, place: string) =>
    `${name}${place} cannot be opened. ${message}`,
  /** Line and column. */
  place: (line: number | undefined, column: number | undefined) =>
    line === undefined ? "" : ` (line ${line}${column === undefined ? "" : `, column ${column}`})`,
  /** `things` are names of elements with their numbers. */
  notShown: (things: string) => `Not shown while editing, but kept in the file: ${things}.`,
  noToken:
    "This page was opened without its session. Open the address that tuckline printed in the terminal.",
  noPanel:
    "The embroidery panel could not be started. Reload the page; if that does not help, build tuckline again.",
  noEditor:
    "The editor could not be started. Reload the page; if that does not help, install tuckline again.",
  /** Of the picture that is seen while the editor loads. */
  sewn: (name: string) => `${name}, as it will be sewn`,
  onItsWay: "as it will be sewn. The editor is on its way…",
  untitled: "untitled.svg",
  pageTitle: (name: string) => `${name} · Tuckline`,
};
