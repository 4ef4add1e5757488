import { useEffect } from 'preact/hooks'
import { useGet } from '../frame/useGet.ts'
import type { Tally } from './shapes.ts'

const WHILE_WORKING_MS = 2000
const AT_REST_MS = 15_000

/** How far transcription is; fetched again now and then, more often while something waits. */
export function useTally() {
  const { data: tally, error, reload } = useGet<Tally>('/api/spoken/tally')
  const every = tally?.waiting ? WHILE_WORKING_MS : AT_REST_MS
  useEffect(() => {
    const timer = setInterval(() => document.visibilityState === 'visible' && reload(), every)
    return () => clearInterval(timer)
  }, [every])
  return { tally, trouble: tally ? '' : (error?.message ?? ''), reload }
}
