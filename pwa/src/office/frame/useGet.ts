import { useEffect, useState } from 'preact/hooks'
import { ask, Trouble } from './api.ts'

export interface Answer<T> {
  data: T | null
  error: Trouble | null
  reload: () => void
}

/** GET an address while the component is mounted; null sends nothing. The last answer stays while a newer one is under way. */
export function useGet<T>(path: string | null): Answer<T> {
  const [data, setData] = useState<T | null>(null)
  const [error, setError] = useState<Trouble | null>(null)
  const [turn, setTurn] = useState(0)
  useEffect(() => {
    if (path === null) return
    const stop = new AbortController()
    ask<T>(path, stop.signal).then(
      (answer) => {
        setData(answer)
        setError(null)
      },
      (reason) => {
        if (reason instanceof Trouble) setError(reason)
      },
    )
    return () => stop.abort()
  }, [path, turn])
  return { data, error, reload: () => setTurn((n) => n + 1) }
}
