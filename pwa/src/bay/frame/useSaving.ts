import { useState } from 'preact/hooks'
import { NotSaved } from '../../capture/index.ts'
import { sentence } from './words.ts'

export interface Told {
  words: string
  wrong: boolean
  /** Bytes that could not be kept here, to be taken out of the phone another way. */
  files: { name: string; blob: Blob }[]
}

const NOTHING: Told = { words: '', wrong: false, files: [] }

/** Runs one act of the capture room and tells what came of it; 'saved' is said only when it resolves. */
export function useSaving() {
  const [told, setTold] = useState<Told>(NOTHING)
  const [busy, setBusy] = useState(false)
  const keep = async <S>(act: () => Promise<S>, words: string): Promise<S | null> => {
    setBusy(true)
    setTold(NOTHING)
    try {
      const saved = await act()
      setTold({ words, wrong: false, files: [] })
      navigator.vibrate?.(25)
      return saved
    } catch (fault) {
      setTold({ words: sentence(fault), wrong: true, files: fault instanceof NotSaved ? fault.files : [] })
      navigator.vibrate?.([80, 60, 80])
      return null
    } finally {
      setBusy(false)
    }
  }
  return { told, busy, keep, forget: () => setTold(NOTHING) }
}
