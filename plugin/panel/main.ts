/** The panel's entry: a session over the editor and the planner, the panel in its container, the canvas over it. */
import { mountCanvas } from "../canvas/main.ts";
import type { EditorHost, MountPanel, PanelOptions } from "../editor-host.ts";
import { TuckPanel } from "./panel.ts";
import { createSession } from "./session.ts";
import type { PanelSession } from "./state.ts";

/** Puts the panel into its container and over the canvas. */
export const mountPanel = ((
  host: EditorHost,
  container: HTMLElement,
  options: PanelOptions,
): PanelSession => {
  const session = createSession(host, options.planner, options);
  const panel = new TuckPanel();
  panel.session = session;
  container.append(panel);
  mountCanvas(host, session, { onMarks: onceKnown(session, options.onFirst) });
  return session;
}) satisfies MountPanel;

/** To be called when a plan stands on the canvas; calls `onFirst` then, or where there will be none, once. */
function onceKnown(session: PanelSession, onFirst: () => void = () => {}): () => void {
  let isKnown = false;
  const known = (): void => {
    if (!isKnown) onFirst();
    isKnown = true;
    stop();
  };
  const stop = session.subscribe(({ problem, isStopped }) => {
    if (problem !== null || isStopped) known();
  });
  return known;
}
