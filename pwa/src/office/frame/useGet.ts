import { useEffect, useState } from 'preact/hooks'
import { ApiError, get } from './api.ts'

export interface Answer<T> {
  data: T | null
  error: ApiError | null
  reload: () => void
}

/** GET an address while the component is mounted; null sends nothing. The last answer stays while a newer one is under way. */
export function useGet<T>(path: string | null): Answer<T> {
  const [data, setData] = useState<T | null>(null)
  const [error, setError] = useState<ApiError | null>(null)
  const [turn, setTurn] = useState(0)
  useEffect(() => {
    if (path === null) return
    const stop = new AbortController()
    get<T>(path, stop.signal).then(
      (answer) => {
        setData(answer)
        setError(null)
      },
      (reason) => {
        if (reason instanceof ApiError) setError(reason)
      },
    )
    return () => stop.abort()
  }, [path, turn])
  return { data, error, reload: () => setTurn((n) => n + 1) }
}
