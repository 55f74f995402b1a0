/** The panel's state: one record, replaced as a whole, and told to all who listen. */
import type { Unsubscribe } from "../editor-host.ts";
import type { PanelState } from "./state.ts";

export type StateListener = (state: PanelState, before: PanelState) => void;

export interface Store {
  readonly state: PanelState;
  update(change: Partial<PanelState>): void;
  subscribe(listener: StateListener): Unsubscribe;
}

export function createStore(first: PanelState): Store {
  let state = first;
  const listeners = new Set<StateListener>();
  return {
    get state() {
      return state;
    },
    update(change) {
      const before = state;
      state = { ...state, ...change };
      for (const listener of [...listeners]) listener(state, before);
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
  };
}
