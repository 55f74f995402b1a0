/** What comes of saving, told in a notice: done, failed, or a question that the artist answers. */
import type { SaveResult } from "../editor-host.ts";
import { texts } from "../texts.ts";
import type { Store } from "./store.ts";

export async function tellSaved(store: Store, result: Promise<SaveResult>): Promise<void> {
  const done = await result;
  switch (done.kind) {
    case "saved":
      store.update({
        fileName: done.fileName,
        notice: { kind: "done", text: texts.save.saved(done.fileName) },
      });
      return;
    case "failed":
      store.update({ notice: { kind: "trouble", text: done.message, remedy: done.remedy } });
      return;
    case "cancelled":
      return;
    default: {
      const text = done.kind === "exists" ? texts.save.exists : texts.save.changedOnDisk;
      const action = {
        label: texts.save.overwrite,
        run: () => void tellSaved(store, done.overwrite()),
      };
      store.update({ notice: { kind: "question", text: text(done.fileName), action } });
    }
  }
}
