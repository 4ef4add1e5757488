// Keeps the screen on while a run is open (Screen Wake Lock), and says so where the phone cannot.
import { useEffect, useState } from 'preact/hooks'

const CANNOT = 'This phone cannot keep its screen on here. Set its own time until it goes dark longer.'

/** '' while the screen stays on, else the sentence to show. */
export function useAwake(): string {
  const [words, setWords] = useState('')
  useEffect(() => {
    const { wakeLock } = navigator
    if (!wakeLock) return setWords(CANNOT)
    let lock: WakeLockSentinel | null = null
    let here = true
    const hold = async () => {
      // The browser lets go whenever the page is out of sight.
      if (document.visibilityState !== 'visible') return
      try {
        const got = await wakeLock.request('screen')
        if (!here) return void got.release()
        lock = got
        setWords('')
      } catch {
        if (here) setWords(CANNOT)
      }
    }
    void hold()
    document.addEventListener('visibilitychange', hold)
    return () => {
      here = false
      document.removeEventListener('visibilitychange', hold)
      void lock?.release().catch(() => undefined)
    }
  }, [])
  return words
}
