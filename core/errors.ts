/**
 * The one error that means «nothing can be planned»: the input is not a drawing, or asks for more than the
 * limits allow. Its message is one line for an artist: what is wrong, and what to do. All that is less than
 * fatal is a `Finding` instead.
 */
export class ArtworkError extends Error {
  readonly line: number | undefined;
  readonly column: number | undefined;

  constructor(message: string, place: { line?: number | undefined; column?: number | undefined } = {}) {
    super(message);
    this.name = "ArtworkError";
    this.line = place.line;
    this.column = place.column;
  }
}
