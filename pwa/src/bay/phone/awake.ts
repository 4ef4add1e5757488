// Keeps the screen on while a run is open (Screen Wake Lock), and says so where the phone cannot.
import { useEffect, useState } from 'preact/hooks'
import { say } from '../frame/say.ts'

const cannot = () => say('phone.screen_goes_dark')

/** '' while the screen stays on, else the sentence to show. */
export function useAwake(): string {
  const [words, setWords] = useState('')
  useEffect(() => {
    const { wakeLock } = navigator
    if (!wakeLock) return setWords(cannot())
    let lock: WakeLockSentinel | null = null
    let here = true
    const hold = async () => {
      // The browser releases the lock whenever the page is out of sight.
      if (document.visibilityState !== 'visible') return
      try {
        const got = await wakeLock.request('screen')
        if (!here) return void got.release()
        lock = got
        setWords('')
      } catch {
        if (here) setWords(cannot())
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
