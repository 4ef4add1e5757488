import { useEffect, useState } from 'preact/hooks'
import { changed } from '../../store/index.ts'

/** What the store holds, read again after every change on this phone; `before` until the first reading. */
export function useStored<V>(before: V, load: () => Promise<V>, about: unknown[]): V {
  const [value, setValue] = useState(before)
  const now = changed.value
  useEffect(() => {
    let here = true
    load().then(
      (loaded) => here && setValue(loaded),
      () => undefined,
    )
    return () => {
      here = false
    }
  }, [now, ...about])
  return value
}

/** An address under which the browser shows a blob, released when it is no longer shown. */
export function useBlob(load: () => Promise<Blob | null>, about: unknown[]): string | null {
  const [url, setUrl] = useState<string | null>(null)
  useEffect(() => {
    let made: string | null = null
    let here = true
    setUrl(null)
    load().then(
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
