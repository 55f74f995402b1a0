/** The drawings on the disk, through the local server. */
import type { Thread } from "../../../core/threads/types.ts";
import type { PlanPicture } from "../../canvas/picture.ts";
import { pictureOfBytes, planOfBytes } from "../../worker/carry.ts";
import type { Planned } from "../../worker/protocol.ts";

export interface SessionFacts {
  /** The drawing to open; `null`: none was named. */
  readonly name: string | null;
  /** That drawing, so that nobody has to ask twice; `null` where there is none or it cannot be read. */
  readonly drawing: DrawingFile | null;
  readonly folder: string;
  readonly given: Readonly<Record<string, unknown>>;
  readonly threads?: readonly Thread[];
}

export interface DrawingFile {
  readonly name: string;
  readonly text: string;
  /** Of its bytes; the demo has none, for it lies in no folder. */
  readonly version?: string;
}

export interface DrawingEntry {
  readonly name: string;
  readonly bytes: number;
  readonly modified: number;
}

export type Saved =
  | { readonly kind: "saved"; readonly version: string }
  | { readonly kind: "changed" }
  | { readonly kind: "failed"; readonly problem: Problem };

export interface Problem {
  readonly message: string;
  readonly remedy: string;
}

/** Something that the server refused or could not do. */
export class ServerProblem extends Error {
  readonly remedy: string;

  constructor({ message, remedy }: Problem) {
    super(message);
    this.remedy = remedy;
  }
}

const GONE: Problem = {
  message: "The local server does not answer.",
  remedy: "Start tuckline edit again in the terminal; the drawing stays open here.",
};

export class ServerFiles {
  readonly #token: string;

  constructor(token: string) {
    this.#token = token;
  }

  session = (): Promise<SessionFacts> => this.#get("session");
  demo = (): Promise<DrawingFile> => this.#get("demo");
  list = (): Promise<readonly DrawingEntry[]> => this.#get("drawings");
  read = (name: string): Promise<DrawingFile> => this.#get(`drawings/${encodeURIComponent(name)}`);

  /** The plan of a version of the drawing that was opened, if the server has it; else `null`. */
  firstPlan = (version: string): Promise<Planned | null> =>
    this.#bytes(`plan?version=${version}`, planOfBytes);
  /** Its picture, as large as fits into so many pixels. */
  firstLook = (version: string, width: number, height: number): Promise<PlanPicture | null> =>
    this.#bytes(`look?version=${version}&width=${width}&height=${height}`, pictureOfBytes);

  /** @param read the version that was read; `null`: there is to be no such file */
  async save(name: string, text: string, read: string | null): Promise<Saved> {
    const headers: Record<string, string> = { "Content-Type": "image/svg+xml" };
    if (read === null) headers["If-None-Match"] = "*";
    else headers["If-Match"] = `"${read}"`;
    try {
      const answer = await this.#ask(`drawings/${encodeURIComponent(name)}`, {
        method: "PUT",
        headers,
        body: text,
      });
      const told = await answer.json();
      if (answer.ok) return { kind: "saved", version: told.version };
      return answer.status === 409 ? { kind: "changed" } : { kind: "failed", problem: told };
    } catch {
      return { kind: "failed", problem: GONE };
    }
  }

  async #get<T>(path: string): Promise<T> {
    const answer = await this.#ask(path, {}).catch(() => undefined);
    const told = await answer?.json().catch(() => undefined);
    if (answer === undefined || told === undefined) throw new ServerProblem(GONE);
    if (!answer.ok) throw new ServerProblem(told);
    return told;
  }

  async #bytes<T>(path: string, read: (bytes: ArrayBuffer) => T): Promise<T | null> {
    try {
      const answer = await this.#ask(`first/${path}`, {});
      return answer.status === 200 ? read(await answer.arrayBuffer()) : null;
    } catch {
      return null;
    }
  }

  #ask(path: string, request: RequestInit & { headers?: Record<string, string> }): Promise<Response> {
    return fetch(`/api/${path}`, {
      ...request,
      cache: "no-store",
      headers: { ...request.headers, "X-Tuckline-Token": this.#token },
    });
  }
}
