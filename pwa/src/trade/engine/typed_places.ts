// Reading a place that somebody typed or said: "bore 3", "cyl 3", "#3 bore", "head bolt a7".

import { places, type Place } from './locations.ts'
import { PART_ORDER, PARTS, SIDES, type EngineType } from './parts.ts'

const SIDE_WORDS: Record<string, string> = {
  in: 'inlet', inl: 'inlet', inlet: 'inlet', intake: 'inlet',
  ex: 'exhaust', exh: 'exhaust', exhaust: 'exhaust',
}
const FILLERS = new Set(['bank', 'no', 'nr', 'number', 'num', 'the', 'of', 'at', 'cylinder', 'cyl'])
const PIECES = /[0-9]+|\p{L}+(?:-\p{L}+)*/gu

const pieces = (text: string): string[] => text.match(PIECES) ?? []
const isNumber = (word: string) => /^[0-9]+$/.test(word)

/** [phrase, part] pairs, the longest phrase first, so that "main bearing cap" wins over "main". */
function aliases(): [string, string][] {
  const pairs = new Map<string, [string, string]>()
  for (const code of PART_ORDER) {
    for (const phrase of [PARTS[code]!.name, ...PARTS[code]!.also, code.replaceAll('_', ' ')]) {
      pairs.set(`${phrase.toLowerCase()}/${code}`, [phrase.toLowerCase(), code])
    }
  }
  // "valve of cylinder 5" speaks of a valve: cylinder stands for the bore only when nothing else is named.
  const rank = ([phrase]: [string, string]): [number, number, number] => [
    FILLERS.has(phrase) ? 1 : 0,
    -phrase.split(' ').length,
    -phrase.length,
  ]
  return [...pairs.values()].sort((a, b) => {
    const [ra, rb] = [rank(a), rank(b)]
    const byText = a[0] < b[0] ? -1 : a[0] > b[0] ? 1 : PART_ORDER.indexOf(a[1]) - PART_ORDER.indexOf(b[1])
    return ra[0] - rb[0] || ra[1] - rb[1] || ra[2] - rb[2] || byText
  })
}

const ALIASES = aliases()

/** The places that the typed words may mean, the closest first; none when nothing fits, for type-ahead. */
export function findPlaces(engine: EngineType, typed: string): Place[] {
  const { parts, tokens } = read(typed)
  if (!parts.length && !tokens.length) return []
  const ranked: { rank: [number, number, number]; place: Place }[] = []
  places(engine).forEach((place, order) => {
    if (parts.length && !parts.includes(place.part)) return
    const left = missing(place, tokens, engine)
    if (left !== null) ranked.push({ rank: [parts.length ? parts.indexOf(place.part) : 0, left, order], place })
  })
  ranked.sort((a, b) => a.rank[0] - b.rank[0] || a.rank[1] - b.rank[1] || a.rank[2] - b.rank[2])
  return ranked.map((match) => match.place)
}

function read(typed: string): { parts: string[]; tokens: string[] } {
  let words = pieces(typed.toLowerCase().replaceAll('_', ' '))
  let parts: string[] = []
  for (const [phrase, part] of ALIASES) {
    const wanted = pieces(phrase)
    const at = words.findIndex((_, i) => wanted.every((word, j) => words[i + j] === word))
    if (at >= 0) {
      parts = [part]
      words = [...words.slice(0, at), ...words.slice(at + wanted.length)]
      break
    }
  }
  if (!parts.length) ({ words, parts } = begun(words))
  return { parts, tokens: words.filter((word) => !FILLERS.has(word)).map((word) => SIDE_WORDS[word] ?? word) }
}

/** A part that is only half typed yet: "bor", "oil p". */
function begun(words: string[]): { words: string[]; parts: string[] } {
  const letters = words.filter((word) => !isNumber(word) && !Object.hasOwn(SIDE_WORDS, word) && !FILLERS.has(word))
  const start = letters.join(' ')
  if (start.length < 2) return { words, parts: [] }
  const hits = new Set(ALIASES.filter(([phrase]) => phrase.startsWith(start)).map(([, part]) => part))
  if (!hits.size) return { words, parts: [] }
  return { words: words.filter((word) => !letters.includes(word)), parts: PART_ORDER.filter((code) => hits.has(code)) }
}

/** How many indices of the place were not typed; null when something typed does not fit it. */
function missing(place: Place, tokens: string[], engine: EngineType): number | null {
  const own = place.indices.map((index) => index.toLowerCase())
  const left = [...own]
  let at = 0
  for (const token of tokens) {
    if (isNumber(token)) {
      // Numbers keep their order: in "valve 5 inlet 2" the first is the cylinder.
      const position = own.indexOf(token, at)
      if (position < 0) return null
      at = position + 1
    }
    const where = left.indexOf(token)
    if (where < 0) return null
    left.splice(where, 1)
  }
  return left.filter((index) => !goesWithoutSaying(place, index, engine)).length
}

function goesWithoutSaying(place: Place, index: string, engine: EngineType): boolean {
  if (engine.banks.length === 1 && index === place.bank.toLowerCase()) return true
  if (place.cylinder !== null && engine.cylinders === 1 && index === place.indices[0]) return true
  if (place.part === 'camshaft') return engine.camshafts.length === 1
  const side = SIDES.find((candidate) => place.indices.includes(candidate))
  return place.indices.length === 3 && side !== undefined && engine.valves[side] === 1 && index === place.indices[2]
}
