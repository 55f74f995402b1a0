import type { Finding, Severity } from "../findings.ts";

/** Collects the findings of reading: each kind once an element. */
export class Notes {
  readonly #found = new Map<string, Finding>();

  /** @param element id of the element, or "" for the drawing as a whole */
  add(code: string, severity: Severity, element: string, message: string, remedy: string): void {
    const key = `${code} ${element}`;
    if (this.#found.has(key)) return;
    const about = element === "" ? {} : { piece: element };
    this.#found.set(key, { code, severity, ...about, message, remedy });
  }

  get findings(): Finding[] {
    return [...this.#found.values()];
  }
}
