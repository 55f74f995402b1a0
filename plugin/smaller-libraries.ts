/**
 * Libraries as the bundle takes them: without the parts that are never come to, which the bundler cannot tell.
 * Each cut names the text that it begins and ends at; where a library is no longer the one that a cut was made
 * for, the build stops. Tests hold the bundled planner to the plan of the command line.
 */
import { readFile } from "node:fs/promises";
import type { Plugin } from "esbuild";

/** By the name that they are imported by: a module in its place. */
const MODULES: Readonly<Record<string, string>> = {
  // Style sheets are parsed, never checked against the grammar of every property.
  "css-tree": `export { default as parse } from "css-tree/parser";
    export { default as generate } from "css-tree/generator";`,
  // Of style sheets nobody asks for.
  "source-map-js/lib/source-map-generator.js": "export class SourceMapGenerator {}",
  // How selectors walk a tree that is not ours.
  domutils: "export {};",
  // The spaces that a colour in a style sheet can be given in.
  culori: `import "culori/css";
    export * from "culori/fn";`,
};

interface Cut {
  readonly from: string;
  /** Stays. */
  readonly to: string;
  readonly instead: string;
}

/** By the end of the file's path. */
const CUTS: Readonly<Record<string, readonly Cut[]>> = {
  "clipper-lib/clipper.js": [
    {
      // Which browser it runs in: numbers are rounded in the same way everywhere, as in Node.
      from: "\tvar navigator_appName;",
      to: "\tClipperLib.biginteger_used = null;",
      instead: "",
    },
    {
      from: "\tif (browser.msie || browser.opera || browser.safari) ClipperLib.Cast_Int32",
      to: "\tif (browser.chrome) ClipperLib.Cast_Int64",
      instead: "\tClipperLib.Cast_Int32 = (a) => ~~a;\n\tconst browser = { chrome: true };\n",
    },
    {
      from: "\telse if (browser.firefox && typeof (Number.toInteger)",
      to: "\tClipperLib.Clear = function",
      instead: "",
    },
    {
      // Big integers, which browsers have had for years: multiplied where coordinates are large, then compared.
      from: "\tvar dbits;",
      to: "\t// end of Int128 section",
      instead: `
  var Int128 = {
    Int128Mul: (one, other) => BigInt(Math.round(one)) * BigInt(Math.round(other)),
    op_Equality: (one, other) => one === other,
  };`,
    },
    // What the library itself has no use for.
    {
      from: "\tClipperLib.IntRect0 = function",
      to: "\tClipperLib.ClipType = {",
      instead: "",
    },
    {
      from: "\tClipperLib.Clipper.prototype.GetBounds2 = function",
      to: "\tClipperLib.Clipper.PointInPolygon = function",
      instead: "",
    },
    {
      from: "\tClipperLib.Clipper.prototype.SwapPoints = function",
      to: "\tClipperLib.Clipper.prototype.HorzSegmentsOverlap = function",
      instead: "",
    },
    {
      from: "\tClipperLib.Clipper.prototype.DeleteFromSEL = function",
      to: "\tClipperLib.Clipper.prototype.ProcessHorizontals = function",
      instead: "",
    },
    {
      from: "\tClipperLib.PolyNode.prototype.Parent = function",
      to: "\t// PolyTree : PolyNode",
      instead: "",
    },
    // Points on polygons: nobody asks.
    {
      from: "\tClipperLib.ClipperBase.prototype.PointIsVertex = function",
      to: "\tClipperLib.ClipperBase.SlopesEqual3 = function",
      instead: "",
    },
    // In whose place core/geometry/clipper.ts puts its own.
    {
      from: "\tClipperLib.Clipper.prototype.BuildIntersectList = function",
      to: "\tClipperLib.Clipper.prototype.EdgesAdjacent = function",
      instead: "",
    },
    {
      from: "\tClipperLib.Clipper.prototype.DoSimplePolygons = function",
      to: "\tClipperLib.Clipper.Area = function",
      instead: "",
    },
    // Trees of polygons: none are asked for.
    {
      from: "\tClipperLib.PolyNode.prototype.GetNext = function",
      to: "\tClipperLib.PolyNode.prototype.Childs = function",
      instead: "",
    },
    {
      from: "\tClipperLib.PolyTree.prototype.Clear = function",
      to: "\tInherit(ClipperLib.PolyTree, ClipperLib.PolyNode);",
      instead: "",
    },
    {
      from: "\tClipperLib.Clipper.prototype.FixupFirstLefts1 = function",
      to: "\tClipperLib.Clipper.prototype.JoinCommonEdges = function",
      instead: "",
    },
    {
      from: "\tClipperLib.Clipper.prototype.BuildResult2 = function",
      to: "\tClipperLib.Clipper.prototype.FixupOutPolygon = function",
      instead: "",
    },
    {
      from: "\tClipperLib.PolyNode.prototype.IsHoleNode = function",
      to: "\tClipperLib.PolyNode.prototype.ChildCount = function",
      instead: "",
    },
    {
      from: "\tClipperLib.PolyNode.prototype.Contour = function",
      to: "\tClipperLib.PolyNode.prototype.AddChild = function",
      instead: "",
    },
    {
      from: "\t\telse if (alen === 4 && ispolytree)",
      to: "\tClipperLib.Clipper.prototype.ExecuteInternal = function",
      instead: "\t};\n",
    },
    {
      from: "\tClipperLib.Clipper.prototype.IsMinima = function",
      to: "\tClipperLib.Clipper.prototype.IsMaxima = function",
      instead: "",
    },
    {
      from: "\tClipperLib.Clipper.ReversePaths = function",
      to: "\tClipperLib.Clipper.Orientation = function",
      instead: "",
    },
    { from: "\tvar R1 = function", to: "\tvar R2 = function", instead: "" },
    {
      from: "\tvar R3 = function",
      to: "\tClipperLib.Clipper.TopX = function",
      instead: "\tClipperLib.Clipper.Round = R2;\n",
    },
    {
      from: "\t\telse // function (polytree, delta)",
      to: "\tClipperLib.ClipperOffset.prototype.OffsetPoint = function",
      instead: "\t};\n",
    },
    // Polygons made simpler, sums of them, trees of them turned into lists: none of it is asked for.
    {
      from: "\tClipperLib.Clipper.SimplifyPolygon = function",
      to: "\tInherit(ClipperLib.Clipper, ClipperLib.ClipperBase);\n\tClipperLib.Clipper.NodeType",
      instead: "",
    },
    // What others have added to it for themselves.
    { from: "\tClipperLib.JS = {};", to: "})();", instead: "" },
  ],
  "flatbush/index.js": [
    // Boxes are looked for by a box: nobody asks for the nearest ones, or for an index that was kept.
    { from: "import FlatQueue", to: "const ARRAY_TYPES", instead: "" },
    { from: "    static from(", to: "    /**\n     * Create a Flatbush index", instead: "" },
    {
      from: "        this._queue = new FlatQueue()",
      to: "    }\n\n    /**\n     * Add a given",
      instead: "",
    },
    { from: "    collides(", to: "/**\n * Binary search", instead: "}\n" },
  ],
  "saxes/saxes.js": [
    // Names in their namespaces: core/artwork/xml.ts sees to these itself.
    { from: "const NSed3", to: "var isS =", instead: "" },
    { from: "var isNCNameStartChar", to: "const XML_ENTITIES", instead: "" },
    { from: "function nsPairCheck(", to: "const isName =", instead: "" },
    {
      from: "        if (xmlnsOpt) {",
      to: "            this.nameStartCheck = isNameStartChar;",
      instead: "{",
    },
    { from: "    pushAttribNS(", to: "    pushAttribPlain(", instead: "" },
    { from: "    resolve(prefix) {", to: "    processAttribsPlain(", instead: "" },
  ],
  "@svgdotjs/svg.js/dist/svg.esm.js": [
    {
      // A polyfill of \`includes\` for browsers of another time.
      from: "//#region node_modules/.pnpm/core-js-pure@3.49.0/node_modules/core-js-pure/internals/fails.js",
      to: "//#region src/utils/utils.js",
      instead: "const require_includes = () => (list) => list.includes;\n",
    },
    // Animation: what moves on our canvas is drawn frame by frame elsewhere.
    { from: "//#region src/animation/Controller.js", to: "//#region src/utils/pathParser.js", instead: "" },
    { from: "//#region src/animation/Morphable.js", to: "//#region src/elements/Path.js", instead: "" },
    {
      from: "//#region src/animation/Queue.js",
      to: "//#region src/elements/Svg.js",
      instead: `class Unmoved {}
const Animator = Unmoved, Controller = Unmoved, Ease = Unmoved, Morphable = Unmoved, NonMorphable = Unmoved,
  ObjectBag = Unmoved, PID = Unmoved, Queue = Unmoved, Runner = Unmoved, Spring = Unmoved, Timeline = Unmoved,
  TransformBag = Unmoved, easing = {};
const registerMorphableType = () => {}, makeMorphable = () => {};
`,
    },
  ],
};

/** @param root the folder that packages are found from */
export const smallerLibraries = (root: string): Plugin => ({
  name: "smaller libraries",
  setup({ onResolve, onLoad }) {
    const names = Object.keys(MODULES).join("|");
    onResolve({ filter: new RegExp(`^(${names})$`) }, ({ path }) => ({ path, namespace: "smaller" }));
    onLoad({ filter: /.*/, namespace: "smaller" }, ({ path }) => ({
      contents: MODULES[path],
      resolveDir: root,
    }));
    for (const [end, cuts] of Object.entries(CUTS)) {
      const filter = new RegExp(`${end.replace(/[.]/g, "\\$&").replaceAll("/", "[\\\\/]")}$`);
      onLoad({ filter }, async ({ path }) => ({
        contents: cuts.reduce((text, cut) => without(text, cut, path), await readFile(path, "utf8")),
      }));
    }
  },
});

function without(text: string, { from, to, instead }: Cut, path: string): string {
  const start = text.indexOf(from);
  const end = text.indexOf(to, start);
  if (start < 0 || end < 0)
    throw new Error(`${path} is not the version that plugin/smaller-libraries.ts was written for: ${from}`);
  return text.slice(0, start) + instead + text.slice(end);
}
