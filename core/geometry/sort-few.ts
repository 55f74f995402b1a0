/**
 * Sorts a few numbers in place, smallest first, by insertion: without a copy, and without a comparer to call. Of a
 * longer list, those from place `from` to before place `to`.
 */
export function sortFew<List extends number[] | Float64Array>(
  numbers: List,
  from = 0,
  to = numbers.length,
): List {
  for (let n = from + 1; n < to; n++) {
    const one = numbers[n];
    let place = n;
    for (; place > from && numbers[place - 1] > one; place--) numbers[place] = numbers[place - 1];
    numbers[place] = one;
  }
  return numbers;
}
