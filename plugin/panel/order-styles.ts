import { css } from "lit";

export const orderStyles = css`
  :host {
    display: block;
    overflow: auto;
    min-block-size: 9rem;
    border: 1px solid var(--line);
    border-radius: 6px;
    background: var(--raised);
  }
  li {
    display: flex;
    align-items: center;
    gap: 0.375rem;
    padding: 0.1875rem 0.375rem;
    position: relative;
    cursor: default;
    content-visibility: auto;
    contain-intrinsic-block-size: auto 1.75rem;
  }
  li:focus-visible {
    outline-offset: -2px;
  }
  .block {
    font-weight: 600;
    background: var(--paper);
    border-block-start: 1px solid var(--line);
  }
  .strand {
    padding-inline-start: 1rem;
    color: var(--quiet);
  }
  .piece {
    padding-inline-start: 2rem;
  }
  .name {
    flex: 1;
    min-inline-size: 4rem;
    overflow: hidden;
    text-overflow: ellipsis;
    white-space: nowrap;
  }
  .number {
    min-inline-size: 2ch;
    text-align: end;
    color: var(--quiet);
  }
  .note,
  .pin,
  .stop {
    font-size: 0.8125rem;
    font-weight: 400;
    color: var(--quiet);
    white-space: nowrap;
  }
  .pin,
  .stop {
    border: 1px solid var(--edge);
    border-radius: 4px;
    padding-inline: 0.25rem;
  }
  .stop {
    border-style: dashed;
  }
  .twist {
    inline-size: 1rem;
    text-align: center;
    cursor: pointer;
    flex: none;
  }
  .grip {
    cursor: grab;
    touch-action: none;
    color: var(--quiet);
    padding-inline: 0.25rem;
  }
  [data-pointed] {
    background: var(--pointed);
  }
  [aria-selected="true"] {
    background: var(--marked);
    box-shadow: inset 3px 0 var(--accent);
  }
  .dragging .piece.closed {
    color: var(--quiet);
    background: repeating-linear-gradient(135deg, transparent 0 6px, var(--line) 6px 7px);
  }
  .dragging .grip {
    cursor: grabbing;
  }
  .before-line::after,
  .line::after {
    content: "";
    position: absolute;
    inset-inline: 0;
    inset-block-end: -2px;
    border-block-end: 3px solid var(--accent);
    z-index: 1;
  }
  .before-line {
    content-visibility: visible;
    overflow: visible;
  }
  .line {
    padding: 0;
    min-block-size: 3px;
  }
  .closed-line::after,
  .line.closed::after {
    border-block-end: 3px dashed var(--trouble);
  }
`;
