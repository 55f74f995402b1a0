/** How the index of a batch looks, and the little that it does by itself: sorting, and finding a name. */

export const STYLE = `
* { box-sizing: border-box; margin: 0; padding: 0; }
html { background: #fff; color: #161616; }
body { max-width: 1500px; margin: 0 auto; padding: 24px; font: 14px/1.4 "Helvetica Neue", Helvetica, Arial, "Liberation Sans", sans-serif; font-variant-numeric: tabular-nums; }
header { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: flex-end; gap: 12px 32px; border-bottom: 2px solid #161616; padding-bottom: 10px; margin-bottom: 4px; }
h1 { font-size: 26px; line-height: 1.15; }
header p { color: #444; margin-top: 2px; }
label { color: #444; }
input { font: inherit; width: 240px; padding: 4px 8px; border: 1px solid #767676; background: #fff; margin-left: 6px; }
table { width: 100%; border-collapse: collapse; }
thead th, thead td { position: sticky; top: 0; background: #fff; border-bottom: 1px solid #161616; padding: 0; vertical-align: bottom; text-align: left; }
th button { font: inherit; font-size: 12px; color: #333; background: none; border: 0; width: 100%; padding: 10px 8px 5px; text-align: inherit; cursor: pointer; white-space: nowrap; }
th button:hover { text-decoration: underline; }
th button::after { content: "\\2003"; }
th[aria-sort="ascending"] button::after { content: " \\2191"; }
th[aria-sort="descending"] button::after { content: " \\2193"; }
th[aria-sort="ascending"] button, th[aria-sort="descending"] button { font-weight: bold; color: #161616; }
td, tbody th { padding: 6px 8px; border-bottom: 1px solid #d5d5d5; vertical-align: middle; text-align: left; font-weight: normal; }
th.number, td.number { text-align: right; white-space: nowrap; }
td.thumb { width: 88px; padding-left: 0; }
td.thumb img { display: block; max-width: 72px; max-height: 72px; margin: 0 auto; }
tbody th { overflow-wrap: anywhere; min-width: 180px; }
tbody th bdi { font-weight: bold; }
.links { display: block; font-size: 12px; }
.links a { color: #0b4f8a; margin-right: 8px; }
.swatches { display: flex; flex-wrap: wrap; justify-content: flex-end; gap: 2px; width: 118px; margin: 3px 0 0 auto; }
td.notes { font-size: 12.5px; max-width: 420px; overflow-wrap: anywhere; }
summary { cursor: pointer; white-space: nowrap; }
li { margin: 4px 0 0 16px; }
.failed { font-weight: bold; }
.missing { border: 2px solid #161616; padding: 8px 12px; margin-top: 12px; }
@media print { input, label, th button::after { display: none; } thead th, thead td { position: static; } tr { break-inside: avoid; } }
`.trim();

/**
 * Rows are sorted by what their cells say in data-sort: a number each; rows that are equal keep the
 * order that the page came in. A second press turns the order round; an empty cell comes last either way.
 */
export const SCRIPT = `
(() => {
  "use strict";
  const body = document.querySelector("tbody");
  const rows = [...body.rows];
  const heads = [...document.querySelectorAll("thead th")];
  heads.forEach((head) => {
    head.querySelector("button")?.addEventListener("click", () => {
      const down = head.getAttribute("aria-sort") === "ascending";
      for (const each of heads) each.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", down ? "descending" : "ascending");
      const sorted = rows
        .map((row, place) => ({ row, place, value: row.cells[head.cellIndex].dataset.sort }))
        .sort((a, b) => {
          if (a.value === "" || b.value === "") return Number(a.value === "") - Number(b.value === "") || a.place - b.place;
          return (down ? -1 : 1) * (Number(a.value) - Number(b.value)) || a.place - b.place;
        });
      body.append(...sorted.map(({ row }) => row));
    });
  });
  const find = document.querySelector("input");
  find.addEventListener("input", () => {
    const text = find.value.toLowerCase();
    for (const row of rows) row.hidden = !row.textContent.toLowerCase().includes(text);
  });
})();
`.trim();
