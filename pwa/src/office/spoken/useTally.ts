import { useEffect } from 'preact/hooks'
import { useAsk } from '../frame/useAsk.ts'
import type { Tally } from './shapes.ts'

const WHILE_WORKING_MS = 2000
const AT_REST_MS = 15_000

/** How far transcription is; fetched again now and then, more often while something waits. */
export function useTally() {
  const { told: tally, trouble, again } = useAsk<Tally>('/api/spoken/tally')
  const every = tally?.waiting ? WHILE_WORKING_MS : AT_REST_MS
  useEffect(() => {
    const timer = setInterval(() => document.visibilityState === 'visible' && again(), every)
    return () => clearInterval(timer)
  }, [every])
  return { tally, trouble: tally ? '' : (trouble?.message ?? ''), again }
}
