/** Questions to the artist, in the browser's own dialog element: it keeps the focus, and Escape closes it. */
import { hostTexts as texts } from "./texts.ts";

export interface Choice<T> {
  readonly label: string;
  readonly value: T;
  /** Shown after the label, quieter. */
  readonly detail?: string;
}

/** @returns what was chosen; `null` where the artist closed the dialog */
export function choose<T>(
  title: string,
  remarks: readonly string[],
  choices: readonly Choice<T>[],
): Promise<T | null> {
  const { dialog, body, done } = open<T>(title);
  for (const remark of remarks) body.append(paragraph(remark));
  const list = document.createElement("ul");
  for (const { label, value, detail } of choices) {
    const item = document.createElement("li");
    const button = document.createElement("button");
    button.type = "button";
    button.append(label);
    if (detail !== undefined) {
      const aside = document.createElement("span");
      aside.textContent = detail;
      button.append(aside);
    }
    button.addEventListener("click", () => done.resolve(value));
    item.append(button);
    list.append(item);
  }
  body.append(list);
  dialog.showModal();
  return done.promise;
}

/** @returns the name that was typed; `null` where the artist closed the dialog */
export function askName(title: string, preset: string): Promise<string | null> {
  const { dialog, body, done } = open<string>(title);
  const label = document.createElement("label");
  const input = document.createElement("input");
  input.value = preset;
  input.required = true;
  label.append(texts.name, input);
  const save = document.createElement("button");
  save.textContent = texts.save;
  body.append(label, save);
  body.addEventListener("submit", (event) => {
    event.preventDefault();
    if (input.value.trim() !== "") done.resolve(input.value.trim());
  });
  dialog.showModal();
  input.setSelectionRange(0, preset.replace(/\.svg$/i, "").length);
  return done.promise;
}

function open<T>(title: string): {
  dialog: HTMLDialogElement;
  body: HTMLFormElement;
  done: { promise: Promise<T | null>; resolve(value: T | null): void };
} {
  const dialog = document.createElement("dialog");
  dialog.className = "tuckline-dialog";
  const heading = document.createElement("h2");
  heading.id = "tuckline-dialog-title";
  heading.textContent = title;
  dialog.setAttribute("aria-labelledby", heading.id);
  const body = document.createElement("form");
  const cancel = document.createElement("button");
  cancel.type = "button";
  cancel.className = "quiet";
  cancel.textContent = texts.cancel;
  dialog.append(heading, body, cancel);
  document.body.append(dialog);
  let settle: (value: T | null) => void = () => undefined;
  const promise = new Promise<T | null>((resolve) => {
    settle = resolve;
  });
  const resolve = (value: T | null): void => {
    dialog.remove();
    settle(value);
  };
  cancel.addEventListener("click", () => resolve(null));
  dialog.addEventListener("cancel", (event) => {
    event.preventDefault();
    resolve(null);
  });
  // The editor's shortcuts are not for what is typed here.
  dialog.addEventListener("keydown", (event) => event.stopPropagation());
  return { dialog, body, done: { promise, resolve } };
}

function paragraph(text: string): HTMLParagraphElement {
  const made = document.createElement("p");
  made.textContent = text;
  return made;
}

/** One line at the foot of the drawing, read aloud; the next one takes its place. */
export class Notice {
  readonly #line = document.createElement("p");
  readonly #words = document.createElement("span");

  constructor(container: HTMLElement) {
    this.#line.className = "tuckline-notice";
    this.#line.setAttribute("role", "status");
    const close = document.createElement("button");
    close.type = "button";
    close.textContent = texts.close;
    close.addEventListener("click", () => this.clear());
    this.#line.append(this.#words, close);
    this.clear();
    container.append(this.#line);
  }

  show(words: string): void {
    this.#words.textContent = words;
    this.#line.classList.add("shown");
  }

  clear(): void {
    this.#words.textContent = "";
    this.#line.classList.remove("shown");
  }
}
