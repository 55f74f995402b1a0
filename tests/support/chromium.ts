/** Debian's Chromium and poppler, which the checks of printed pages run: installed by .ci/run, not by npm. */
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";

const runs = (command: string, word: string): boolean => spawnSync(command, [word]).status === 0;

/** What is missing to print and to look at the print; undefined where all is there. */
export function missingForPrinting(): string | undefined {
  if (!runs("chromium", "--version")) return "chromium";
  return ["pdfinfo", "pdftoppm", "pdftotext"].find((command) => !runs(command, "-v"));
}

function call(command: string, words: readonly string[]): string {
  const { status, stdout, stderr } = spawnSync(command, words, { encoding: "utf8", timeout: 60_000 });
  if (status !== 0) throw new Error(`${command} ended with ${status}: ${stderr.slice(-400)}`);
  return stdout;
}

/** Prints a page as a browser does, with its own margins and without head and foot lines. */
export function printToPdf(page: string, pdf: string, folder: string): void {
  call("chromium", [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--no-pdf-header-footer",
    `--user-data-dir=${folder}/profile`,
    `--print-to-pdf=${pdf}`,
    `file://${page}`,
  ]);
}

export interface PdfFacts {
  readonly pages: number;
  /** Of the first page. */
  readonly widthMm: number;
  readonly heightMm: number;
}

const MM_PER_POINT = 25.4 / 72;

export function pdfFacts(pdf: string): PdfFacts {
  const text = call("pdfinfo", [pdf]);
  const [, width, height] = /Page size: +([\d.]+) x ([\d.]+) pts/.exec(text) ?? [];
  return {
    pages: Number(/Pages: +(\d+)/.exec(text)?.[1]),
    widthMm: Number(width) * MM_PER_POINT,
    heightMm: Number(height) * MM_PER_POINT,
  };
}

export const pdfText = (pdf: string): string => call("pdftotext", ["-layout", pdf, "-"]);

export interface GreyPage {
  readonly width: number;
  readonly height: number;
  readonly pxPerMm: number;
  /** 0 black to 255 white, row by row. */
  readonly grey: Uint8Array;
}

/** A page of the print as grey pixels, as a copier sees it. `root` is a path without ending to draw to. */
export function greyPage(pdf: string, pageNumber: number, pxPerMm: number, root: string): GreyPage {
  const dpi = String(pxPerMm * 25.4);
  const page = String(pageNumber);
  call("pdftoppm", ["-r", dpi, "-f", page, "-l", page, "-gray", "-singlefile", pdf, root]);
  const file = readFileSync(`${root}.pgm`);
  // A binary grey map: magic number, width, height and greatest value as text, then a byte a pixel.
  const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(file.toString("latin1", 0, 40));
  if (head === null) throw new Error(`${root}.pgm is no grey map of 8 bits`);
  return { width: Number(head[1]), height: Number(head[2]), pxPerMm, grey: file.subarray(head[0].length) };
}
