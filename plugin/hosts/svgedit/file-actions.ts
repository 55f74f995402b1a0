/** New, Open, Save and Save as: what they ask, and what they say when it is done. */
import { ArtworkError } from "../../../core/errors.ts";
import type { SaveResult } from "../../editor-host.ts";
import { askName, type Choice, choose, type Notice } from "./dialogs.ts";
import { EMPTY_DRAWING, type SvgEditHost } from "./host.ts";
import { type DrawingFile, type ServerFiles, ServerProblem } from "./server-files.ts";
import { hostTexts as texts } from "./texts.ts";
import { unshown } from "./unshown.ts";

export class FileActions {
  readonly #host: SvgEditHost;
  readonly #files: ServerFiles;
  readonly #notice: Notice;
  #isBusy = false;

  constructor(host: SvgEditHost, files: ServerFiles, notice: Notice) {
    this.#host = host;
    this.#files = files;
    this.#notice = notice;
  }

  newDrawing = (): Promise<void> =>
    this.#alone(async () => {
      if (await this.#mayLeave()) this.#show({ name: texts.untitled, text: EMPTY_DRAWING });
    });

  open = (): Promise<void> => this.#alone(() => this.#offer(texts.openTitle, false));

  /** Where nothing was named: what the artist may begin with. */
  welcome = (): Promise<void> => this.#alone(() => this.#offer(texts.welcome, true));

  /** @param read what the server has read of it already, if anything */
  openNamed = (name: string, read: DrawingFile | null): Promise<void> =>
    this.#alone(async () =>
      read === null ? this.#read(() => this.#files.read(name), name) : this.#show(read),
    );

  openDemo = (): Promise<void> =>
    this.#alone(async () => {
      if (await this.#mayLeave()) await this.#read(this.#files.demo, texts.demo);
    });

  /** A file that was dropped on the drawing: it lies in no folder that we may write to. */
  openDropped = (file: File): Promise<void> =>
    this.#alone(async () => {
      if (await this.#mayLeave()) this.#show({ name: file.name, text: await file.text() });
    });

  save = (): Promise<void> =>
    this.#alone(() => (this.#host.fileName() === null ? this.#askAndSave() : this.#told(this.#host.save())));

  saveAs = (): Promise<void> => this.#alone(() => this.#askAndSave());

  async #offer(title: string, isWelcome: boolean): Promise<void> {
    const [drawings, { folder }] = await Promise.all([this.#files.list(), this.#files.session()]);
    const listed = drawings.map(
      ({ name, modified }): Choice<() => Promise<unknown>> => ({
        label: name,
        detail: new Date(modified).toLocaleDateString(),
        value: () => this.#read(() => this.#files.read(name), name),
      }),
    );
    const others: Choice<() => Promise<unknown>>[] = isWelcome
      ? [
          { label: texts.demo, value: () => this.#read(this.#files.demo, texts.demo) },
          { label: texts.drawNew, value: async () => undefined },
        ]
      : [{ label: texts.demo, value: () => this.#read(this.#files.demo, texts.demo) }];
    const remark = drawings.length === 0 ? texts.emptyFolder : texts.inFolder(folder);
    const chosen = await choose(title, [remark], isWelcome ? [...others, ...listed] : [...listed, ...others]);
    if (chosen !== null && (await this.#mayLeave())) await chosen();
  }

  async #read(read: () => Promise<DrawingFile>, shown: string): Promise<void> {
    try {
      this.#show(await read());
    } catch (error) {
      if (!(error instanceof ServerProblem)) throw error;
      this.#notice.show(`${shown}: ${error.message} ${error.remedy}`);
    }
  }

  #show(file: DrawingFile): void {
    try {
      const { root } = this.#host.openFile(file);
      const things = unshown(root);
      if (things === "") this.#notice.clear();
      else this.#notice.show(texts.notShown(things));
    } catch (error) {
      const { line, column } = error instanceof ArtworkError ? error : {};
      this.#notice.show(texts.cannotOpen(file.name, (error as Error).message, texts.place(line, column)));
    }
  }

  async #mayLeave(): Promise<boolean> {
    if (this.#host.isSaved()) return true;
    const choice = await choose(
      texts.unsaved,
      [texts.unsavedRemedy],
      [
        { label: texts.save, value: "save" },
        { label: texts.letGo, value: "let go" },
      ],
    );
    if (choice !== "save") return choice === "let go";
    await (this.#host.fileName() === null ? this.#askAndSave() : this.#told(this.#host.save()));
    return this.#host.isSaved();
  }

  async #askAndSave(): Promise<void> {
    const name = await askName(texts.saveAsTitle, this.#host.fileName() ?? texts.untitled);
    if (name !== null) await this.#told(this.#host.saveAs(name));
  }

  async #told(saving: Promise<SaveResult>): Promise<void> {
    const result = await saving;
    switch (result.kind) {
      case "saved":
        return this.#notice.show(texts.saved(result.fileName));
      case "failed":
        return this.#notice.show(`${result.message} ${result.remedy}`);
      case "changed-on-disk":
      case "exists": {
        const isChanged = result.kind === "changed-on-disk";
        const choice = await choose(
          isChanged ? texts.changedOnDisk(result.fileName) : texts.exists(result.fileName),
          [isChanged ? texts.changedOnDiskRemedy : texts.existsRemedy],
          [
            { label: texts.anotherName, value: "another" },
            { label: texts.replace, value: "replace" },
          ],
        );
        if (choice === "another") return this.#askAndSave();
        if (choice === "replace") return this.#told(result.overwrite());
      }
    }
  }

  /** One question at a time. */
  async #alone(action: () => Promise<void>): Promise<void> {
    if (this.#isBusy) return;
    this.#isBusy = true;
    try {
      await action();
    } catch (error) {
      if (!(error instanceof ServerProblem)) throw error;
      this.#notice.show(`${error.message} ${error.remedy}`);
    } finally {
      this.#isBusy = false;
    }
  }
}
