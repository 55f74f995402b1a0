/**
 * The editor lets the artist click only what lies in the current layer, and there also where nothing is painted: in
 * a crest of ten layers hardly anything can be had. Here the layer follows the click: what is seen under the
 * pointer is selected, and its layer becomes the current one. (Which parts of a layer take clicks: page.css.)
 */
import type { SvgEditor } from "./svgedit-types.ts";

export function selectInAnyLayer({ svgCanvas, workarea, layersPanel }: SvgEditor): void {
  // To the editor, what lies in other layers is no target at all: its search for one would find nothing.
  const targetOf = svgCanvas.getMouseTarget.bind(svgCanvas);
  svgCanvas.getMouseTarget = (event) => {
    const { target } = event;
    const isElsewhere =
      target instanceof Element &&
      svgCanvas.getSvgContent().contains(target) &&
      !svgCanvas.current_drawing_.current_layer?.getGroup().contains(target);
    return isElsewhere ? svgCanvas.getSvgRoot() : targetOf(event);
  };
  workarea.addEventListener(
    "mousedown",
    ({ target }) => {
      if (svgCanvas.getMode() !== "select" || !(target instanceof Element)) return;
      const content = svgCanvas.getSvgContent();
      if (!content.contains(target)) return;
      const drawing = svgCanvas.current_drawing_;
      const layer = drawing.all_layers.find((one) => one.getGroup().contains(target));
      if (layer === undefined || layer === drawing.current_layer) return;
      drawing.current_layer?.deactivate();
      drawing.current_layer = layer;
      layer.activate();
      layersPanel.populateLayers();
    },
    // Before the editor asks what was clicked.
    { capture: true },
  );
}
