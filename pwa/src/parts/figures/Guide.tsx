/** A rule of thumb beside a figure, in small words; a stop has the weight of a caution, whatever the verdict. */
export function Guide({ words, quiet = 'small soft' }: { words: string; quiet?: string }) {
  if (!words) return null
  return <span class={words.startsWith('STOP') ? 'caution is-stop' : quiet}>{words}</span>
}
