// The words of a recording and when each is heard: the twin of trade/spoken/timed_words.py.
// A word that both texts have keeps the machine's time; words between two of these share what lies between. That serves to
// light a word while it is heard; it decides nothing.

/** [word, from_ms, to_ms, ...], as a recogniser heard it. */
export type HeardWord = readonly [string, number, number, ...unknown[]]
/** [word, from_ms, to_ms]; times in whole milliseconds of the recording. */
export type TimedWord = [string, number, number]
type Span = [number, number]

const EDGES = '.,;:!?"\'()[]“”‘’„…–-'
const MOST_PAIRS = 4_000_000

/** `text` with a time for each word; empty when `words` is: then nobody heard anything. */
export function timed(text: string, words: readonly HeardWord[]): TimedWord[] {
  const own = split(text)
  if (!words.length || !own.length) return []
  const spans = words.map(([, from, to]): Span => [from, Math.max(from, to)])
  const timedWords: TimedWord[] = []
  let [at, heard] = [0, 0]
  for (const [mine, theirs] of [...matched(own, words.map(([word]) => word)), [own.length, words.length] as Span]) {
    timedWords.push(...shared(own.slice(at, mine), between(spans, heard, theirs)))
    if (mine < own.length) timedWords.push([own[mine]!, ...spans[theirs]!])
    ;[at, heard] = [mine + 1, theirs + 1]
  }
  return timedWords
}

/** `text` as [word, whether `against` has it too at that place]; capitals and punctuation make no difference. */
export function differing(text: string, against: string): [string, boolean][] {
  const own = split(text)
  const same = new Set(matched(own, split(against)).map(([mine]) => mine))
  return own.map((word, number) => [word, same.has(number)])
}

function split(text: string): string[] {
  return text.split(/\s+/).filter(Boolean)
}

function between(spans: Span[], first: number, end: number): Span {
  if (first < end) return [spans[first]![0], Math.max(spans[end - 1]![1], spans[first]![0])]
  const start = first > 0 ? spans[first - 1]![1] : 0
  const stop = end < spans.length ? spans[end]![0] : start
  return [start, Math.max(start, stop)]
}

function shared(words: string[], [start, end]: Span): TimedWord[] {
  const part = (place: number) => start + Math.floor(((end - start) * place) / words.length)
  return words.map((word, place) => [word, part(place), part(place + 1)])
}

function plain(word: string): string {
  const low = [...word.toLowerCase()]
  while (low.length && EDGES.includes(low[0]!)) low.shift()
  while (low.length && EDGES.includes(low.at(-1)!)) low.pop()
  return low.join('') || word
}

function matched(own: readonly string[], other: readonly string[]): Span[] {
  const [mine, theirs] = [own.map(plain), other.map(plain)]
  const [rows, columns] = [mine.length, theirs.length]
  const spans: Span[] = []
  let start = 0
  while (start < Math.min(rows, columns) && mine[start] === theirs[start]) spans.push([start, start++])
  let same = 0
  while (start < Math.min(rows, columns) - same && mine[rows - 1 - same] === theirs[columns - 1 - same]) same += 1
  const [a, b] = [mine.slice(start, rows - same), theirs.slice(start, columns - same)]
  if (a.length * b.length <= MOST_PAIRS) spans.push(...common(a, b).map(([x, y]): Span => [start + x, start + y]))
  for (let k = same; k > 0; k -= 1) spans.push([rows - k, columns - k])
  return spans
}

function common(mine: string[], theirs: string[]): Span[] {
  const lengths = Array.from({ length: mine.length + 1 }, () => new Uint32Array(theirs.length + 1))
  for (let a = mine.length - 1; a >= 0; a -= 1) {
    for (let b = theirs.length - 1; b >= 0; b -= 1) {
      const same = mine[a] === theirs[b]
      lengths[a]![b] = same ? lengths[a + 1]![b + 1]! + 1 : Math.max(lengths[a + 1]![b]!, lengths[a]![b + 1]!)
    }
  }
  const spans: Span[] = []
  let [a, b] = [0, 0]
  while (a < mine.length && b < theirs.length) {
    if (mine[a] === theirs[b]) spans.push([a++, b++])
    else if (lengths[a + 1]![b]! >= lengths[a]![b + 1]!) a += 1
    else b += 1
  }
  return spans
}
