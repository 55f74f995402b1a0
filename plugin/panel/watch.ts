/** A component's eye on the session: it draws itself anew when one of the named parts of the state changed. */
import type { ReactiveController, ReactiveControllerHost } from "lit";
import type { Unsubscribe } from "../editor-host.ts";
import type { PanelSession, PanelState } from "./state.ts";

interface Watcher extends ReactiveControllerHost {
  readonly session: PanelSession;
}

export class Watch implements ReactiveController {
  readonly #host: Watcher;
  readonly #parts: readonly (keyof PanelState)[];
  #stop: Unsubscribe | null = null;

  constructor(host: Watcher, parts: readonly (keyof PanelState)[]) {
    this.#host = host;
    this.#parts = parts;
    host.addController(this);
  }

  hostConnected(): void {
    this.#stop = this.#host.session.subscribe((state, before) => {
      if (this.#parts.some((part) => state[part] !== before[part])) this.#host.requestUpdate();
    });
  }

  hostDisconnected(): void {
    this.#stop?.();
  }
}
