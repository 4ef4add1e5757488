// What people read: sentences and words in one language, out of server/witnessmark/trade/data/sentences. The twin of
// trade/ground/sentences.py. The language is the device's, where there is a file for it, else English.

/** One wording, or one for each plural form (Unicode CLDR) that `count` can take. */
export type Sentence = string | { [form: string]: string }
export type Section = Record<string, Sentence>
export type Filled = Record<string, string | number>

const ENGLISH = 'en'

const codeOf = (path: string) => path.slice(path.lastIndexOf('/') + 1, -'.json'.length)

/** The first of the device's languages that is among the files; "de-AT" takes de-AT, else de. */
export function chosen(files: Iterable<string>, wanted: readonly string[]): string {
  const there = new Set(files)
  for (const language of wanted) {
    const match = [language, language.split('-')[0]!].find((code) => there.has(code))
    if (match) return match
  }
  return ENGLISH
}

const DEVICE = typeof navigator === 'undefined' ? [] : (navigator.languages ?? [])

const tags = import.meta.glob<string>('../../../../server/witnessmark/trade/data/sentences/*.json', { eager: true, import: 'language' })

/** Code of the language in use, the name of its file. */
export const language = chosen(Object.keys(tags).map(codeOf), DEVICE)

/** Its tag, as the page's `lang` and `Intl` take it: "en-GB". */
export const tag = Object.entries(tags).find(([path]) => codeOf(path) === language)![1]

const plurals = new Intl.PluralRules(tag)
const numbers = new Intl.NumberFormat(tag)
const lists = new Intl.ListFormat(tag, { type: 'conjunction', style: 'long' })

/** A whole number as the language writes it: "1,200". */
export const countText = (count: number) => numbers.format(count)

/** "1, 2 and 3". */
export const listed = (items: Iterable<string>) => lists.format(items)

function filledIn(sentence: Sentence, filled: Filled): string {
  let wording = sentence
  if (typeof wording !== 'string') wording = wording[plurals.select(filled['count'] as number)] ?? wording['other']!
  return wording.replace(/\{([a-z0-9_]+)\}/g, (_, name: string) => {
    const value = filled[name]
    if (value === undefined) throw new Error(`Nothing is given for {${name}} in: ${wording}`)
    return typeof value === 'number' ? countText(value) : value
  })
}

/**
 * The `say` of one section of the catalogue: its files by path, as `import.meta.glob` gives them. Whole numbers are written
 * as the language writes them; text is filled in as it is, so that a measured value keeps every digit as typed.
 */
export function sayer<S extends Section>(files: Record<string, S>) {
  const by = new Map(Object.entries(files).map(([path, section]) => [codeOf(path), section]))
  const english = by.get(ENGLISH)!
  const own = by.get(language) ?? english
  return (key: keyof S & string, filled: Filled = {}): string => filledIn(own[key] ?? english[key]!, filled)
}

const words = import.meta.glob<Record<string, Record<string, string>>>('../../../../server/witnessmark/trade/data/sentences/*.json', {
  eager: true,
  import: 'tables',
})

/** A table with its words in the language in use; in English it has its own. Changes and returns `table`. */
export function worded<T>(name: string, table: T): T {
  const own = Object.entries(words).find(([path]) => codeOf(path) === language)?.[1]?.[name] ?? {}
  return inWords(table, own)
}

/** A path names keys, and in a list an item's code, word or number: "procedures/cylinder_bore/figures/ovality/words". */
export function inWords<T>(table: T, own: Record<string, string>): T {
  for (const [path, text] of Object.entries(own)) {
    const steps = path.split('/')
    const last = steps.pop()!
    let place: any = table
    for (const step of steps) place = place[Array.isArray(place) ? index(place, step) : step]
    place[Array.isArray(place) ? index(place, last) : last] = text
  }
  return table
}

function index(items: any[], step: string): number {
  const place = items.findIndex((item) => item && typeof item === 'object' && (item.code === step || item.word === step))
  return place < 0 ? Number(step) : place
}
