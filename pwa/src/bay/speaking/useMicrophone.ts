import { useEffect, useRef, useState } from 'preact/hooks'
import type { Recording } from '../../capture/index.ts'

/** Longer is no figure any more: it ends by itself, and what was said until then is saved. */
const MOST_SECONDS = 20

/** The recording that runs on a screen; `onCut` when it has to end by itself. Leaving the screen ends and saves it. */
export function useMicrophone(onCut: () => void) {
  const [recording, setRecording] = useState<Recording | null>(null)
  const running = useRef<Recording | null>(null)
  const here = useRef(true)
  const seconds = recording?.seconds.value ?? 0
  const cut = recording?.cut.value ?? ''
  useEffect(() => {
    if (recording && (cut || seconds >= MOST_SECONDS)) onCut()
  }, [cut, seconds])
  useEffect(() => {
    here.current = true
    return () => {
      here.current = false
      void running.current?.stop().catch(() => undefined)
    }
  }, [])
  return {
    recording,
    seconds,
    /** False once the screen was left. */
    here,
    start: (opened: Recording) => {
      running.current = opened
      setRecording(opened)
    },
    /** The recording that ran, to be stopped by the caller; null where none does. */
    take: (): Recording | null => {
      const open = running.current
      running.current = null
      return open
    },
    clear: () => setRecording(null),
  }
}
