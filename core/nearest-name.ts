/**
 * «Did you mean …?»: the known name that a mistyped one most resembles, by edit distance (Wagner & Fischer,
 * The String-to-String Correction Problem, 1974): the fewest insertions, deletions and replacements of one
 * letter that turn one name into the other.
 */

/** A name further off than this share of its letters is another word, not a slip of the finger. */
const FARTHEST_SHARE = 0.5;

/** The known name nearest to `name`, upper and lower case alike; undefined where none is near. */
export function nearestName(name: string, known: readonly string[]): string | undefined {
  let best: string | undefined;
  let least = Math.max(1, Math.floor(name.length * FARTHEST_SHARE)) + 1;
  for (const candidate of known) {
    const edits = editDistance(name.toLowerCase(), candidate.toLowerCase());
    if (edits < least) {
      least = edits;
      best = candidate;
    }
  }
  return best;
}

function editDistance(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const replace = row[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(replace, row[j] + 1, next[j - 1] + 1));
    }
    row = next;
  }
  return row[b.length];
}
