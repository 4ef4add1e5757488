import { useEffect, useState } from 'preact/hooks'
import { get, ApiError } from './api.ts'

export interface Asked<T> {
  told: T | null
  trouble: ApiError | null
  again: () => void
}

/** GET an address while the component stands; null asks nothing. The last answer stays while a newer one is under way. */
export function useAsk<T>(path: string | null): Asked<T> {
  const [told, setTold] = useState<T | null>(null)
  const [trouble, setTrouble] = useState<ApiError | null>(null)
  const [turn, setTurn] = useState(0)
  useEffect(() => {
    if (path === null) return
    const stop = new AbortController()
    get<T>(path, stop.signal).then(
      (answer) => {
        setTold(answer)
        setTrouble(null)
      },
      (reason) => {
        if (reason instanceof ApiError) setTrouble(reason)
      },
    )
    return () => stop.abort()
  }, [path, turn])
  return { told, trouble, again: () => setTurn((n) => n + 1) }
}
