// Where words that were searched for stand in a text. Pure.

/** The text in pieces, [piece, whether it was sought]; each sought phrase is met at the beginning of a word, in any case. */
export function marked(text: string, sought: readonly string[]): [string, boolean][] {
  const phrases = sought.map((phrase) => phrase.trim()).filter(Boolean)
  if (!phrases.length) return [[text, false]]
  const longest = [...new Set(phrases)].sort((a, b) => b.length - a.length).map(escaped)
  const find = new RegExp(`(?<![\\p{L}\\p{N}])(?:${longest.join('|')})[\\p{L}\\p{N}]*`, 'giu')
  const pieces: [string, boolean][] = []
  let at = 0
  for (const found of text.matchAll(find)) {
    if (found.index > at) pieces.push([text.slice(at, found.index), false])
    pieces.push([found[0], true])
    at = found.index + found[0].length
  }
  if (at < text.length || !pieces.length) pieces.push([text.slice(at), false])
  return pieces
}

/** What was typed into the search box as phrases: words in quotation marks together, others each for themselves and together. */
export function phrasesOf(q: string): string[] {
  const quoted = [...q.matchAll(/"([^"]+)"/g)].map(([, inside]) => inside!)
  const rest = q.replace(/"[^"]*"?/g, ' ').trim()
  return [...quoted, rest, ...rest.split(/\s+/)].filter(Boolean)
}

function escaped(text: string): string {
  return text.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&').replace(/\s+/g, '\\s+')
}
