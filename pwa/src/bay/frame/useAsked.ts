import { useEffect, useState } from 'preact/hooks'
import { changed } from '../../store/index.ts'

/** What the store answers, asked again after every change on this phone; `before` until the first answer. */
export function useAsked<V>(before: V, ask: () => Promise<V>, about: unknown[]): V {
  const [answer, setAnswer] = useState(before)
  const now = changed.value
  useEffect(() => {
    let here = true
    ask().then(
      (found) => here && setAnswer(found),
      () => undefined,
    )
    return () => {
      here = false
    }
  }, [now, ...about])
  return answer
}

/** An address under which the browser shows a blob, given back when it is no longer shown. */
export function useBlob(ask: () => Promise<Blob | null>, about: unknown[]): string | null {
  const [url, setUrl] = useState<string | null>(null)
  useEffect(() => {
    let made: string | null = null
    let here = true
    setUrl(null)
    ask().then(
      (blob) => {
        if (!here || !blob) return
        made = URL.createObjectURL(blob)
        setUrl(made)
      },
      () => undefined,
    )
    return () => {
      here = false
      if (made) URL.revokeObjectURL(made)
    }
  }, about)
  return url
}
