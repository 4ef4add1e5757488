// The camera inside the page: for series, where the phone's own camera app would have to be opened again and again.
import { judge } from './judge.ts'
import { keepPhoto, type SavedPhoto } from './photo.ts'
import type { Where } from './where.ts'
import { say } from '../store/say.ts'

export interface Live {
  /** What the camera really gives, which may be less than what was requested. */
  facts: { width: number; height: number; label: string }
  shoot(at: Where, caption?: string): Promise<SavedPhoto>
  stop(): void
}

interface StillCamera {
  takePhoto(): Promise<Blob>
}
declare const ImageCapture: { new (track: MediaStreamTrack): StillCamera } | undefined

const STILL_WAIT_MS = 4000

/** Opens the rear camera into `video`. Rejects with a sentence when the browser or the person does not allow it. */
export async function openLive(video: HTMLVideoElement): Promise<Live> {
  let stream: MediaStream
  try {
    const wanted = { facingMode: 'environment', width: { ideal: 4096 }, height: { ideal: 3072 } }
    stream = await navigator.mediaDevices.getUserMedia({ video: wanted, audio: false })
  } catch (fault) {
    const why = fault instanceof Error ? fault.name : String(fault)
    throw new Error(say('camera.did_not_open', { why }))
  }
  video.srcObject = stream
  video.playsInline = true
  video.muted = true
  await video.play()
  const track = stream.getVideoTracks()[0] as MediaStreamTrack
  const { width = video.videoWidth, height = video.videoHeight } = track.getSettings()
  return {
    facts: { width, height, label: track.label },
    shoot: (at, caption = '') => shoot(video, track, at, caption),
    stop() {
      for (const open of stream.getTracks()) open.stop()
      video.srcObject = null
    },
  }
}

async function shoot(video: HTMLVideoElement, track: MediaStreamTrack, at: Where, caption: string): Promise<SavedPhoto> {
  if (track.readyState !== 'live' || video.videoWidth === 0)
    throw new Error(say('camera.gone_dark'))
  const small = frame(video, 320)
  const judged = judge(small.context.getImageData(0, 0, small.canvas.width, small.canvas.height))
  const blob = (await still(track)) ?? (await frame(video, Number.POSITIVE_INFINITY).canvas.convertToBlob({ type: 'image/jpeg', quality: 0.92 }))
  const extension = blob.type === 'image/png' ? 'png' : 'jpg'
  const file = { bytes: await blob.arrayBuffer(), type: blob.type || 'image/jpeg', role: 'original', name: `live-${Date.now()}.${extension}` } as const
  const { sharpness, exposure } = judged
  return keepPhoto(at, file, { method: 'live', caption, file_time: null, sharpness, exposure })
}

/** A still from the camera itself where the browser offers it; null when it does not, or takes too long. */
async function still(track: MediaStreamTrack): Promise<Blob | null> {
  if (typeof ImageCapture === 'undefined') return null
  const late = new Promise<null>((resolve) => setTimeout(() => resolve(null), STILL_WAIT_MS))
  return Promise.race([new ImageCapture(track).takePhoto().catch(() => null), late])
}

function frame(video: HTMLVideoElement, longest: number) {
  const scale = Math.min(1, longest / Math.max(video.videoWidth, video.videoHeight))
  const canvas = new OffscreenCanvas(Math.round(video.videoWidth * scale), Math.round(video.videoHeight * scale))
  const context = canvas.getContext('2d', { willReadFrequently: true }) as OffscreenCanvasRenderingContext2D
  context.drawImage(video, 0, 0, canvas.width, canvas.height)
  return { canvas, context }
}
