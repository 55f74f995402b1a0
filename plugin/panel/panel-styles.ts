import { css } from "lit";

export const panelStyles = css`
  :host {
    display: block;
    block-size: 100%;
    min-inline-size: 0;
  }
  .panel {
    display: flex;
    flex-direction: column;
    block-size: 100%;
    min-block-size: 0;
    overflow: auto;
  }
  header {
    padding: 0.625rem 0.75rem 0.375rem;
    display: grid;
    gap: 0.125rem;
  }
  header h2 {
    overflow-wrap: anywhere;
  }
  header > p {
    min-block-size: 1.875rem;
    display: flex;
    align-items: center;
  }
  progress {
    inline-size: 6rem;
    accent-color: var(--accent);
  }
  .notice {
    margin: 0.5rem 0.75rem;
    flex: none;
    padding: 0.375rem 0.625rem;
    border: 1px solid var(--edge);
    border-radius: 6px;
    background: var(--raised);
    display: flex;
    flex-wrap: wrap;
    align-items: center;
    justify-content: space-between;
    gap: 0.25rem 0.5rem;
    overflow-wrap: anywhere;
  }
  .notice.trouble,
  .notice.question {
    border-color: var(--trouble);
    border-inline-start-width: 4px;
  }
  .notice.trouble {
    background: var(--trouble-ground);
  }
  [role="tablist"] {
    display: flex;
    flex-wrap: wrap;
    border-block-end: 1px solid var(--line);
    padding-inline: 0.5rem;
  }
  [role="tab"] {
    background: none;
    border: 0;
    border-radius: 0;
    border-block-end: 3px solid transparent;
    padding: 0.375rem 0.5rem;
    color: var(--quiet);
  }
  [role="tab"][aria-selected="true"] {
    color: var(--ink);
    font-weight: 600;
    border-block-end-color: var(--accent);
  }
  .view {
    flex: 1 1 14rem;
    min-block-size: 14rem;
    overflow: auto;
    padding: 0.75rem;
  }
  .view.pieces {
    display: flex;
    flex-direction: column;
    gap: 0.5rem;
  }
  .view.pieces {
    overflow: hidden;
    padding-block-end: 0;
  }
  .view.pieces tuck-order-list {
    flex: 1 1 9rem;
  }
  .view.pieces tuck-piece-editor {
    flex: 1 1 9rem;
    min-block-size: 9rem;
    overflow: auto;
    padding: 0.125rem 0.125rem 0.75rem;
  }
  .view.pieces tuck-piece-editor[idle] {
    flex: none;
    min-block-size: 0;
  }
  footer {
    border-block-start: 1px solid var(--line);
    padding: 0.5rem 0.75rem;
  }
`;
