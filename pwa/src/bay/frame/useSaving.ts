import { useState } from 'preact/hooks'
import { NotSaved } from '../../capture/index.ts'
import { sentence } from './words.ts'

export interface Message {
  words: string
  wrong: boolean
  /** Bytes that could not be saved here, to be taken out of the phone another way. */
  files: { name: string; blob: Blob }[]
}

const NO_MESSAGE: Message = { words: '', wrong: false, files: [] }

/** Runs what saves, and holds the message that comes of it; `words` are shown only when it resolves. */
export function useSaving() {
  const [message, setMessage] = useState<Message>(NO_MESSAGE)
  const [busy, setBusy] = useState(false)
  /** Null where it was not saved; the message then says why. */
  const attempt = async <S>(act: () => Promise<S>, words: string): Promise<S | null> => {
    setBusy(true)
    setMessage(NO_MESSAGE)
    try {
      const saved = await act()
      setMessage({ words, wrong: false, files: [] })
      navigator.vibrate?.(25)
      return saved
    } catch (fault) {
      setMessage({ words: sentence(fault), wrong: true, files: fault instanceof NotSaved ? fault.files : [] })
      navigator.vibrate?.([80, 60, 80])
      return null
    } finally {
      setBusy(false)
    }
  }
  return { message, busy, attempt, forget: () => setMessage(NO_MESSAGE) }
}
