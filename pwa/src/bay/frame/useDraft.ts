import { useLayoutEffect, useRef, useState } from 'preact/hooks'
import { dropDraft, getDraft, putDraft } from '../../store/index.ts'

export interface Drafted<V> {
  value: V
  change: (change: Partial<V>) => void
  /** After what was written has become a record. */
  done: () => Promise<void>
  /** True while something stands here that is not a record yet. */
  begun: boolean
}

/** What is being written, stored on this phone with every letter: a killed page brings it back word for word. */
export function useDraft<V extends object>(key: string, blank: V): Drafted<V> {
  const [value, setValue] = useState<V>(blank)
  const [begun, setBegun] = useState(false)
  const latest = useRef(value)
  const touched = useRef(false)
  // Before anything can be typed: an effect after the first paint would wipe the first letters of a slow phone.
  useLayoutEffect(() => {
    let here = true
    touched.current = false
    latest.current = blank
    setValue(blank)
    setBegun(false)
    void getDraft<V>(key).then((draft) => {
      if (!here || !draft || touched.current) return
      latest.current = { ...blank, ...draft }
      setValue(latest.current)
      setBegun(true)
    })
    return () => {
      here = false
    }
  }, [key])
  return {
    value,
    begun,
    change: (change) => {
      touched.current = true
      latest.current = { ...latest.current, ...change }
      setValue(latest.current)
      // Emptied again, it is no draft any more: an empty one would hold up an update of the app.
      const empty = JSON.stringify(latest.current) === JSON.stringify(blank)
      setBegun(!empty)
      void (empty ? dropDraft(key) : putDraft(key, latest.current))
    },
    done: async () => {
      touched.current = true
      latest.current = blank
      setValue(blank)
      setBegun(false)
      await dropDraft(key)
    },
  }
}
