// Looks for a QR code in the camera's picture, where the browser can read one by itself.
import { say } from '../frame/say.ts'

interface Detector {
  detect(source: HTMLVideoElement): Promise<{ rawValue: string }[]>
}
declare const BarcodeDetector: { new (options: { formats: string[] }): Detector } | undefined

export interface Scanner {
  stop(): void
}

const EVERY_MS = 250

export const canScan = () => typeof BarcodeDetector !== 'undefined' && Boolean(navigator.mediaDevices)

/** Calls `onCode` once with what the first code says. Rejects with a sentence when the camera does not open. */
export async function scan(video: HTMLVideoElement, onCode: (text: string) => void): Promise<Scanner> {
  if (typeof BarcodeDetector === 'undefined') throw new Error(say('join.cannot_scan'))
  const detector = new BarcodeDetector({ formats: ['qr_code'] })
  let stream: MediaStream
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } })
  } catch {
    throw new Error(say('join.no_camera'))
  }
  const stop = () => {
    clearInterval(timer)
    for (const track of stream.getTracks()) track.stop()
  }
  const timer = setInterval(async () => {
    const [code] = await detector.detect(video).catch(() => [])
    if (!code) return
    stop()
    onCode(code.rawValue)
  }, EVERY_MS)
  video.srcObject = stream
  await video.play().catch(() => undefined)
  return { stop }
}
