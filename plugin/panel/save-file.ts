import type { OutputFile } from "../worker/protocol.ts";

/** Hands a file to the browser, which keeps it with the artist's downloads. */
export function saveFile({ fileName, type, content }: OutputFile): void {
  const url = URL.createObjectURL(new Blob([content as BlobPart], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = fileName;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
