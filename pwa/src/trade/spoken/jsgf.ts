// Grammars in the JSpeech Grammar Format 1.0 (https://www.w3.org/TR/jsgf/), gathered rule by rule and written out.
// The twin of trade/spoken/jsgf.py, which can also say lines by chance; tags stay on that side.

/** [weight, text]: how often each of several ways is taken. */
export type Ways = [number, string][]
export const NOTHING = '<NULL>'

/** The rules of one grammar, in the order in which they were first named. */
export class Rules {
  private rules = new Map<string, Ways>()

  /** Keeps a rule once and returns how it is named inside others: "<name>". */
  add(name: string, ways: Ways): string {
    if (!this.rules.has(name)) this.rules.set(name, ways)
    return `<${name}>`
  }

  has(name: string): boolean {
    return this.rules.has(name)
  }

  /** The whole grammar; `public_` is the rule that a line is. */
  text(public_: string): string {
    const names = [public_, ...[...this.rules.keys()].filter((name) => name !== public_)]
    const lines = names.map((name) => `${name === public_ ? 'public ' : ''}<${name}> = ${either(this.rules.get(name)!)};`)
    return `${['#JSGF V1.0;', 'grammar witnessmark;', ...lines].join('\n')}\n`
  }
}

/** Ways side by side, with their weights where they differ. */
export function either(ways: Ways): string {
  const same = new Set(ways.map(([weight]) => weight)).size === 1
  return ways.map(([weight, text]) => (same ? text : `/${weight}/ ${text}`)).join(' | ')
}

/** As `either`, in brackets, to stand among other pieces. */
export function oneOf(ways: Ways): string {
  return ways.length > 1 ? `(${either(ways)})` : ways[0]![1]
}

/** A piece that is said `taken` times of `of`; where there is nothing to be said, nothing is. */
export function maybe(text: string, taken: number, of: number): string {
  if (!text) return NOTHING
  return oneOf([
    [taken, text],
    [of - taken, NOTHING],
  ])
}

/** Every word that a grammar can say, in order of the alphabet. */
export function wordsOf(grammar: string): string[] {
  const body = grammar.split(';').slice(2).join(';')
  const bare = body.replace(/<[^>]*>|\/[0-9.]+\/|\bpublic\b|[=|();*+[\]]/g, ' ')
  return [...new Set(bare.split(/\s+/).filter(Boolean))].sort()
}
