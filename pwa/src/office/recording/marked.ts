// Where the words of a search stand in a text. Pure.

/** The text in pieces, [piece, whether it was searched for]; a phrase matches at the beginning of a word, upper or lower case. */
export function marked(text: string, sought: readonly string[]): [string, boolean][] {
  const phrases = sought.map((phrase) => phrase.trim()).filter(Boolean)
  if (!phrases.length) return [[text, false]]
  const longest = [...new Set(phrases)].sort((a, b) => b.length - a.length).map(escaped)
  const find = new RegExp(`(?<![\\p{L}\\p{N}])(?:${longest.join('|')})[\\p{L}\\p{N}]*`, 'giu')
  const pieces: [string, boolean][] = []
  let at = 0
  for (const hit of text.matchAll(find)) {
    if (hit.index > at) pieces.push([text.slice(at, hit.index), false])
    pieces.push([hit[0], true])
    at = hit.index + hit[0].length
  }
  if (at < text.length || !pieces.length) pieces.push([text.slice(at), false])
  return pieces
}

/** The words of the search box as phrases: words in quotation marks together, others singly and together. */
export function phrasesOf(q: string): string[] {
  const quoted = [...q.matchAll(/"([^"]+)"/g)].map(([, inside]) => inside!)
  const rest = q.replace(/"[^"]*"?/g, ' ').trim()
  return [...quoted, rest, ...rest.split(/\s+/)].filter(Boolean)
}

function escaped(text: string): string {
  return text.replace(/[\\^$.*+?()[\]{}|]/g, '\\$&').replace(/\s+/g, '\\s+')
}
