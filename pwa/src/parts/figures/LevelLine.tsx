import { useEffect, useRef } from 'preact/hooks'
import { say } from '../words/say.ts'
import './level_line.css'

const BARS = 48

/** How loud it is, as a line that grows from the left while somebody speaks: shows that the microphone hears. */
export function LevelLine({ stream }: { stream: MediaStream }) {
  const line = useRef<SVGPathElement>(null)
  useEffect(() => {
    const sound = new AudioContext()
    const ear = sound.createAnalyser()
    ear.fftSize = 512
    sound.createMediaStreamSource(stream).connect(ear)
    const samples = new Float32Array(ear.fftSize)
    const heard: number[] = []
    const timer = setInterval(() => {
      ear.getFloatTimeDomainData(samples)
      const loud = Math.sqrt(samples.reduce((sum, s) => sum + s * s, 0) / samples.length)
      heard.push(Math.min(1, Math.sqrt(loud) * 1.6))
      if (heard.length > BARS) heard.shift()
      line.current?.setAttribute('d', heard.map((h, i) => `M${4 + i * 6} ${30 - 2 - h * 26}V${30 + 2 + h * 26}`).join(''))
    }, 120)
    return () => {
      clearInterval(timer)
      void sound.close()
    }
  }, [stream])
  return (
    <svg class="level-line whole" viewBox={`0 0 ${BARS * 6 + 4} 60`} role="img" aria-label={say('level.loudness')}>
      <line class="axis" x1="0" x2={BARS * 6 + 4} y1="30" y2="30" />
      <path class="blue-line" ref={line} d="" />
    </svg>
  )
}
