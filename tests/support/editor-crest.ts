/** A small drawing of our own as a desktop editor saves it. */

/** Two feathers of one thread and a red pennant over them, on layers that the editor moved and turned. */
export const CREST = `<?xml version="1.0" encoding="UTF-8" standalone="no"?>
<!-- Willowmere -->
<svg
   width="60mm"
   height="40mm"
   viewBox="0 0 60 40"
   version="1.1"
   id="svg5"
   sodipodi:docname="heron.svg"
   xmlns:inkscape="http://www.inkscape.org/namespaces/inkscape"
   xmlns:sodipodi="http://sodipodi.sourceforge.net/DTD/sodipodi-0.dtd"
   xmlns="http://www.w3.org/2000/svg">
  <sodipodi:namedview
     id="namedview7"
     pagecolor="#ffffff"
     inkscape:document-units="mm" />
  <g
     inkscape:label="Plumage"
     inkscape:groupmode="layer"
     id="layer1"
     transform="translate(10,5)">
    <path
       style="fill:#4a6274;stroke:none"
       d="M 0,0 H 14 V 10 H 0 Z"
       id="feather-1" />
    <path
       style="fill:#4a6274;stroke:none"
       d="m 10,4 h 14 v 10 h -14 z"
       id="feather-2" />
  </g>
  <g
     inkscape:label="Pennant"
     inkscape:groupmode="layer"
     id="layer2"
     transform="matrix(0,1,-1,0,60,0)">
    <path
       style="fill:#c8403a"
       d="m 10,20 4,20 8,-18 z"
       id="pennant" />
  </g>
</svg>
`;
