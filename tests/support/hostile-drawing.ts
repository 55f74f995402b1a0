/**
 * A drawing of a feather and a pennant with everything in it by which SVG can run or load something. What runs
 * would set `HARM`; what loads would ask `origin`.
 *
 * Sources: SVG 2 (5.8 `foreignObject`, 15 scripting and interactivity, 16 linking), XML 1.0 (4.2.2 external
 * entities), "Associating Style Sheets with XML documents" (W3C), CSS (`@import`, `@font-face`, `url()`).
 */
export const hostileDrawing = (origin: string): string => `<?xml version="1.0"?>
<?xml-stylesheet type="text/css" href="${origin}/sheet.css"?>
<?xml-stylesheet type="text/xsl" href="${origin}/sheet.xsl"?>
<!DOCTYPE svg PUBLIC "-//CLUB//HERON" "${origin}/heron.dtd" [
  <!ENTITY outside SYSTEM "${origin}/entity.txt">
  <!ENTITY % parameter SYSTEM "${origin}/parameter.dtd">
]>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"
  width="40mm" height="30mm" viewBox="0 0 40 30" onload="globalThis.HARM = 'onload'"
  style="background-image: url(${origin}/background.png)">
  <title>&lt;script&gt;globalThis.HARM = 'title'&lt;/script&gt;</title>
  <style>
    @import "${origin}/import.css";
    @font-face { font-family: reeds; src: url(${origin}/reeds.woff2); }
    rect { fill: url(${origin}/paint.svg#reed); mask-image: url(${origin}/mask.png); }
    * { cursor: u\\72l(${origin}/cursor.png), auto; filter: image-set("${origin}/set.png" 1x); }
  </style>
  <script>globalThis.HARM = 'script'</script>
  <script href="${origin}/script.js"/>
  <script xlink:href="data:text/javascript,globalThis.HARM='data'"/>
  <metadata><script xmlns="http://www.w3.org/1999/xhtml">globalThis.HARM = 'metadata'</script></metadata>
  <path id="feather" fill="#4a6274" d="M4 4h14v10h-14z" onclick="globalThis.HARM = 'click'"
    onmouseover="globalThis.HARM = 'over'" onfocusin="globalThis.HARM = 'focus'" tabindex="0"/>
  <a href="javascript:globalThis.HARM='link'" xlink:href=" java&#10;script:globalThis.HARM='xlink'">
    <path id="pennant" fill="#c8403a" d="M22 4h14v10z"/>
  </a>
  <rect id="oar" x="4" y="18" width="14" height="8" fill="url('${origin}/gradient.svg#g')" filter="url(${origin}/f.svg#f)"/>
  <image id="heron" href="${origin}/heron.png" width="9" height="9"/>
  <image id="nest" xlink:href="file:///etc/hostname" width="9" height="9"/>
  <image id="reeds" href="data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' onload='parent.HARM=1'/%3E" width="9" height="9"/>
  <use href="${origin}/oars.svg#oar"/>
  <use href="data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg'%3E%3Cg id='a' onclick='HARM=1'/%3E%3C/svg%3E#a"/>
  <foreignObject width="40" height="30"><body xmlns="http://www.w3.org/1999/xhtml">
    <iframe src="javascript:parent.HARM='frame'"/><img src="${origin}/img.png" onerror="globalThis.HARM = 'img'"/>
    <form action="${origin}/form"><input autofocus="" onfocus="globalThis.HARM = 'autofocus'"/></form>
  </body></foreignObject>
  <animate href="#feather" attributeName="fill" from="red" to="blue" onbegin="globalThis.HARM = 'begin'" dur="1s"/>
  <set href="#pennant" attributeName="href" to="javascript:globalThis.HARM='set'" begin="0s"/>
</svg>
`;
