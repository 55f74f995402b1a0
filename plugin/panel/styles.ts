/**
 * The panel's look: plain and calm. Tokens are set once, on the panel, and reach all components within. Text keeps
 * a contrast of 4.5 to 1 and more on every ground it stands on, light and dark (WCAG 2.2, 1.4.3).
 */
import { css } from "lit";

export const tokens = css`
  :host {
    color-scheme: light dark;
    --paper: light-dark(#fbfaf6, #1b2128);
    --raised: light-dark(#ffffff, #242c35);
    --ink: light-dark(#1d2530, #e8ecf1);
    --quiet: light-dark(#55606e, #aab5c2);
    --line: light-dark(#d8d4c8, #3a4552);
    --edge: light-dark(#7d8591, #7f8b99);
    --accent: light-dark(#17596a, #86cad8);
    --on-accent: light-dark(#ffffff, #0e1b20);
    --marked: light-dark(#dcebee, #23424c);
    --pointed: light-dark(#f1ece0, #2f3945);
    --trouble: light-dark(#8f2c1d, #ffb4a4);
    --trouble-ground: light-dark(#fbe9e4, #4a2420);
    --gap: 0.5rem;
    font:
      0.875rem / 1.45 system-ui,
      sans-serif;
    color: var(--ink);
    background: var(--paper);
  }
`;

/** What every component starts from. */
export const base = css`
  *,
  *::before,
  *::after {
    box-sizing: border-box;
  }
  [hidden] {
    display: none !important;
  }
  h2,
  h3,
  p,
  ul,
  ol,
  dl,
  dd,
  figure {
    margin: 0;
    padding: 0;
  }
  ul,
  ol {
    list-style: none;
  }
  h2 {
    font-size: 1rem;
    font-weight: 600;
  }
  h3 {
    font-size: 0.875rem;
    font-weight: 600;
    margin-block: 1rem 0.375rem;
  }
  :focus-visible {
    outline: 2px solid var(--accent);
    outline-offset: 1px;
  }
  .quiet {
    color: var(--quiet);
  }
  .small {
    font-size: 0.8125rem;
  }
  .row {
    display: flex;
    flex-wrap: wrap;
    gap: var(--gap);
    align-items: center;
  }
  .figures {
    font-variant-numeric: tabular-nums;
  }
  .unseen {
    position: absolute;
    inline-size: 1px;
    block-size: 1px;
    overflow: hidden;
    clip-path: inset(50%);
    white-space: nowrap;
  }
  .swatch {
    display: inline-block;
    inline-size: 1em;
    block-size: 1em;
    flex: none;
    border: 1px solid var(--edge);
    border-radius: 3px;
    vertical-align: -0.125em;
  }
  button,
  input:not([type="checkbox"], [type="range"]),
  select {
    font: inherit;
    color: var(--ink);
    background: var(--raised);
    border: 1px solid var(--edge);
    border-radius: 6px;
    padding: 0.1875rem 0.375rem;
    min-block-size: 1.875rem;
  }
  button {
    padding: 0.25rem 0.625rem;
    cursor: pointer;
  }
  button:hover:not(:disabled) {
    border-color: var(--accent);
    color: var(--accent);
  }
  button:disabled {
    color: var(--quiet);
    border-color: var(--line);
    background: none;
    cursor: default;
  }
  button.main {
    color: var(--on-accent);
    background: var(--accent);
    border-color: var(--accent);
  }
  button.main:hover:not(:disabled) {
    color: var(--on-accent);
    filter: brightness(1.08);
  }
  button.plain {
    background: none;
    border-color: transparent;
    color: var(--accent);
    padding-inline: 0.25rem;
    text-decoration: underline;
    text-underline-offset: 2px;
  }
  table {
    border-collapse: collapse;
    inline-size: 100%;
    font-variant-numeric: tabular-nums;
  }
  caption {
    text-align: start;
    color: var(--quiet);
    padding-block-end: 0.25rem;
  }
  th,
  td {
    text-align: start;
    font-weight: 400;
    padding: 0.1875rem 0.375rem;
    border-block-end: 1px solid var(--line);
    vertical-align: top;
  }
  th:first-child,
  td:first-child {
    padding-inline-start: 0;
  }
  thead th {
    color: var(--quiet);
  }
  .number {
    text-align: end;
  }
`;

/** Labelled fields: the label above or before, help below. */
export const fields = css`
  .fields {
    display: grid;
    grid-template-columns: minmax(6rem, 1fr) minmax(9rem, 1.4fr);
    gap: 0.375rem var(--gap);
    align-items: center;
  }
  .fields > .wide {
    grid-column: 1 / -1;
  }
  .field {
    display: flex;
    align-items: center;
    gap: 0.25rem;
    min-inline-size: 0;
  }
  .field > input,
  .field > select {
    flex: 1;
  }
  .field input:not([type="checkbox"], [type="range"]),
  .field select {
    min-inline-size: 0;
    inline-size: 100%;
  }
  input::placeholder {
    color: var(--quiet);
    opacity: 1;
  }
  input[aria-invalid="true"] {
    border-color: var(--trouble);
    border-width: 2px;
  }
  input[type="checkbox"],
  input[type="range"] {
    accent-color: var(--accent);
  }
  .unit {
    color: var(--quiet);
    flex: none;
  }
  .clear {
    min-inline-size: 1.875rem;
    padding: 0;
    flex: none;
  }
  .fault {
    color: var(--trouble);
  }
  summary {
    cursor: pointer;
    padding-block: 0.375rem;
  }
`;
