/** Sorts a few numbers in place, smallest first, by insertion: without a copy, and without a comparer to call. */
export function sortFew(numbers: number[]): number[] {
  for (let n = 1; n < numbers.length; n++) {
    const one = numbers[n];
    let place = n;
    for (; place > 0 && numbers[place - 1] > one; place--) numbers[place] = numbers[place - 1];
    numbers[place] = one;
  }
  return numbers;
}
