// Looks for a QR code in the camera's picture, where the browser can read one by itself.

interface Detector {
  detect(source: HTMLVideoElement): Promise<{ rawValue: string }[]>
}
declare const BarcodeDetector: { new (options: { formats: string[] }): Detector } | undefined

export interface Scanner {
  stop(): void
}

const EVERY_MS = 250

export const canScan = () => typeof BarcodeDetector !== 'undefined' && Boolean(navigator.mediaDevices)

/** Calls `found` once with what the first code says. Rejects with a sentence when the camera does not open. */
export async function scan(video: HTMLVideoElement, found: (text: string) => void): Promise<Scanner> {
  if (typeof BarcodeDetector === 'undefined') throw new Error('This browser cannot read codes. Type the short code instead.')
  const detector = new BarcodeDetector({ formats: ['qr_code'] })
  let stream: MediaStream
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: 'environment' } })
  } catch {
    throw new Error('The camera did not open: allow it in the browser, or type the short code.')
  }
  const stop = () => {
    clearInterval(timer)
    for (const track of stream.getTracks()) track.stop()
  }
  const timer = setInterval(async () => {
    const [code] = await detector.detect(video).catch(() => [])
    if (!code) return
    stop()
    found(code.rawValue)
  }, EVERY_MS)
  video.srcObject = stream
  await video.play().catch(() => undefined)
  return { stop }
}
