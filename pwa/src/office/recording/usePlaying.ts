import { useEffect, useRef, useState } from 'preact/hooks'
import { say } from '../frame/say.ts'

/** Playback of one recording: its position in milliseconds, often enough to light each word as it is played. */
export function usePlaying(src: string) {
  const sound = useRef<HTMLAudioElement>(null)
  const [at, setAt] = useState(0)
  const [playing, setPlaying] = useState(false)
  const [wrong, setWrong] = useState('')
  const until = useRef<number | null>(null)

  useEffect(() => {
    setAt(0)
    setPlaying(false)
    return () => sound.current?.pause()
  }, [src])
  useEffect(() => {
    if (!playing) return
    let frame = 0
    const look = () => {
      const audio = sound.current
      if (!audio) return
      const now = Math.round(audio.currentTime * 1000)
      setAt(now)
      if (until.current !== null && now >= until.current) audio.pause()
      else frame = requestAnimationFrame(look)
    }
    frame = requestAnimationFrame(look)
    return () => cancelAnimationFrame(frame)
  }, [playing])

  const start = () =>
    sound.current?.play().catch(() => setWrong(say('spoken.cannot_play')))
  /** Plays from a moment, and stops at another one if that is given. */
  const playFrom = (ms: number, stop: number | null = null) => {
    const audio = sound.current
    if (!audio) return
    until.current = stop
    audio.currentTime = ms / 1000
    setAt(ms)
    void start()
  }
  const seek = (ms: number) => {
    until.current = null
    if (sound.current) sound.current.currentTime = ms / 1000
    setAt(ms)
  }
  const turn = () => {
    until.current = null
    if (playing) sound.current?.pause()
    else void start()
  }
  const audio = {
    ref: sound,
    src,
    preload: 'auto' as const,
    onPlay: () => setPlaying(true),
    onPause: () => setPlaying(false),
    onEnded: () => setPlaying(false),
  }
  return { at, playing, wrong, playFrom, seek, turn, audio }
}
