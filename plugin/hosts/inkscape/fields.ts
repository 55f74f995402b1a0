/**
 * The fields of a dialog, as plain records: what the editor's description of an extension is written from, and
 * what the values that it sends are read by. A value that does not fit its field counts as not given: the field's
 * preset stands.
 */

/** Wording that the artist sees is in texts.ts. */
export type Field =
  | {
      readonly kind: "choice";
      readonly name: string;
      readonly label: string;
      readonly options: readonly Option[];
    }
  | {
      readonly kind: "number";
      readonly name: string;
      readonly label: string;
      readonly min: number;
      readonly max: number;
      readonly decimals: number;
      readonly preset: number;
    }
  | { readonly kind: "flag"; readonly name: string; readonly label: string; readonly preset: boolean }
  | { readonly kind: "text"; readonly name: string; readonly label: string; readonly tip?: string }
  | { readonly kind: "folder"; readonly name: string; readonly label: string }
  /** Side by side. */
  | { readonly kind: "row"; readonly fields: readonly Field[] }
  | { readonly kind: "heading" | "note"; readonly text: string };

/** The first option of a choice is its preset. */
export interface Option {
  readonly value: string;
  readonly label: string;
}

/** A choice among what `words` names, by the values that it names them for. */
export const choiceOf = (name: string, label: string, words: Readonly<Record<string, string>>): Field => ({
  kind: "choice",
  name,
  label,
  options: Object.entries(words).map(([value, label]) => ({ value, label })),
});

/** Values by the names of their fields: numbers and flags as such, all else as text. */
export interface Values {
  text(name: string): string;
  number(name: string): number;
  flag(name: string): boolean;
}

/** The values of a dialog, from what the editor sent. */
export function valuesOf(fields: readonly Field[], given: Readonly<Record<string, string>>): Values {
  const values = new Map(fields.flatMap((field) => valueIn(field, given)));
  const known = (name: string): string | number | boolean => {
    const value = values.get(name);
    if (value === undefined) throw new Error(`there is no field ${name}`);
    return value;
  };
  return {
    text: (name) => String(known(name)),
    number: (name) => Number(known(name)),
    flag: (name) => known(name) === true,
  };
}

function valueIn(
  field: Field,
  given: Readonly<Record<string, string>>,
): [name: string, value: string | number | boolean][] {
  switch (field.kind) {
    case "heading":
    case "note":
      return [];
    case "row":
      return field.fields.flatMap((one) => valueIn(one, given));
    case "choice": {
      const { name, options } = field;
      return [[name, options.find(({ value }) => value === given[name])?.value ?? options[0].value]];
    }
    case "number": {
      const { name, min, max, preset } = field;
      const value = given[name] === undefined ? Number.NaN : Number.parseFloat(given[name]);
      return [[name, value >= min && value <= max ? value : preset]];
    }
    case "flag":
      return [[field.name, given[field.name] === undefined ? field.preset : given[field.name] === "true"]];
    case "text":
    case "folder":
      return [[field.name, (given[field.name] ?? "").trim()]];
  }
}
