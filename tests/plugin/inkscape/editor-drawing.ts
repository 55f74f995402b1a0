/**
 * A drawing of the club's with what Inkscape adds to drawings: millimetres with a viewBox of other units and
 * another origin, layers that are moved, slanted and turned, `style` strings, and a path with a live effect that
 * rounds its corners, whose outcome the editor works out when it opens the drawing.
 */

const CORNERS = Array.from({ length: 4 }, () => "F,0,0,1,0,6,0,1").join(" @ ");

export const CLUB = `<?xml version="1.0" encoding="UTF-8"?>
<svg width="80mm" height="60mm" viewBox="-5 -5 160 120" id="svg1"
   xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"
   xmlns="http://www.w3.org/2000/svg">
  <defs id="defs1">
    <inkscape:path-effect effect="fillet_chamfer" id="effect1" is_visible="true" lpeversion="1"
       nodesatellites_param="${CORNERS}" unit="px" method="auto" mode="F" radius="6" chamfer_steps="1"
       flexible="false" use_knot_distance="true" apply_no_radius="true" apply_with_radius="true"
       only_selected="false" hide_knots="false" />
  </defs>
  <g inkscape:groupmode="layer" inkscape:label="Water" id="water" transform="translate(4,60) skewX(-8)">
    <path style="fill:#2f7f92;stroke:none" d="m 0,10 c 20,-14 40,14 60,0 s 40,-14 60,0 v 22 h -120 z" id="wave" />
  </g>
  <g inkscape:groupmode="layer" inkscape:label="Plumage" id="plumage" transform="rotate(12)">
    <path style="fill:#7391a8;stroke:none" d="M 20,10 H 60 V 40 H 20 Z" id="wing"
       inkscape:path-effect="#effect1" inkscape:original-d="M 20,10 H 60 V 40 H 20 Z" />
    <path style="fill:#f1ead8;stroke:#1c3347;stroke-width:3;stroke-linejoin:round" d="m 70,8 20,4 -6,26 -16,-8 z"
       id="neck" />
  </g>
  <g inkscape:groupmode="layer" inkscape:label="Pennants" id="pennants">
    <path style="fill:#c8403a;stroke:none" d="m 105,10 30,10 -30,12 z" id="pennant" />
    <circle style="fill:#d9a441;stroke:none" cx="120" cy="75" r="12" id="sun" />
  </g>
</svg>
`;

/** What the artist does to it: a clone that is moved and turned, a group that is turned. */
export const ARTIST_ACTIONS = [
  "select-by-id:pennant",
  "clone",
  "transform-translate:-10,60",
  "object-rotate-90-cw",
  "select-clear",
  "select-by-id:neck,wing",
  "selection-group",
  "transform-rotate:9",
  "select-clear",
];
