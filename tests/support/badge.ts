/** A small drawing for patches: a pennant on a pole over water, 30 by 24 mm on a larger page. */
export const BADGE = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 60 50" width="60mm" height="50mm">
  <path id="water" fill="#2f7f92" d="M15 32Q22 29 30 32T45 32V38H15Z"/>
  <path id="pole" fill="none" stroke="#d9a441" stroke-width="1.6" d="M22 14V33"/>
  <path id="pennant" fill="#b23a3f" d="M22 15L42 20L22 25Z"/>
  <circle id="stone" fill="#1c3347" cx="36" cy="35" r="2"/>
</svg>`;
