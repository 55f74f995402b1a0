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
  mountCanvas(host, session);
  return session;
}) satisfies MountPanel;
