import { useEffect, useRef, useState } from 'preact/hooks'
import { Pause, Play } from '../controls/icons.tsx'
import { say } from '../words/say.ts'
import './media.css'

/** 0:07, 12:31: minutes and seconds as a clock on the wall has them. */
export function minutes(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds))
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}

/** Plays one recording. `seconds` is its length as measured when it was made: browsers do not know it for all formats. */
export function AudioPlayer({ src, seconds, name }: { src: string; seconds: number; name: string }) {
  const sound = useRef<HTMLAudioElement>(null)
  const [at, setAt] = useState(0)
  const [playing, setPlaying] = useState(false)
  const [wrong, setWrong] = useState('')
  useEffect(() => () => sound.current?.pause(), [src])
  const turn = () => {
    const audio = sound.current
    if (!audio) return
    if (playing) audio.pause()
    else audio.play().catch(() => setWrong(say('player.cannot')))
  }
  const length = Math.max(seconds, at, 0.1)
  return (
    <div class="player along wrapped" role="group" aria-label={name}>
      <audio
        ref={sound}
        src={src}
        preload="metadata"
        onPlay={() => setPlaying(true)}
        onPause={() => setPlaying(false)}
        onEnded={() => setPlaying(false)}
        onTimeUpdate={(event) => setAt(event.currentTarget.currentTime)}
      />
      <button type="button" aria-label={playing ? say('player.pause') : say('player.play')} onClick={turn}>
        {playing ? <Pause size={24} /> : <Play size={24} />}
      </button>
      <input
        type="range"
        min="0"
        max={length}
        step="0.1"
        value={at}
        aria-label={say('player.position')}
        aria-valuetext={say('player.position_of', { at: minutes(at), length: minutes(length) })}
        onInput={(event) => {
          if (sound.current) sound.current.currentTime = Number(event.currentTarget.value)
        }}
      />
      <span class="figure">
        {minutes(at)}/{minutes(length)}
      </span>
      {wrong && <p class="field-wrong">{wrong}</p>}
    </div>
  )
}
