// The series of pictures in hand: taken one after another at one place, each called saved only once it is.
import { signal } from '@preact/signals'
import { type Hints, NotSaved, type SavedPhoto, type Where, beforeCamera, dropPending, takePhoto } from '../../capture/index.ts'
import { route, instead, open } from '../frame/route.ts'
import { sentence } from '../frame/words.ts'

export interface Shot {
  key: number
  at: Where
  state: 'keeping' | 'saved' | 'failed'
  /** Why not, in a sentence. */
  why: string
  url: string
  hints: Hints | null
  /** The hint was read and the picture is good enough. */
  settled: boolean
  files: { name: string; blob: Blob }[]
  record: string
}

export type Source = 'camera' | 'gallery'

/** The series of this sitting, the last one first. */
export const series = signal<Shot[]>([])
/** Shown when the camera was open as the page was killed, and no picture came back. */
export const pendingWords = signal('')

const inputs: Partial<Record<Source, HTMLInputElement | null>> = {}
let pointed: Where | null = null
let next = 1

export const register = (source: Source) => (input: HTMLInputElement | null) => {
  inputs[source] = input
}

/** Opens the phone's own camera, or its gallery, for this place; the place is written down first, in case the page is killed. */
export async function openCamera(at: Where, source: Source = 'camera'): Promise<void> {
  pointed = at
  goOn()
  if (route.value.screen !== 'camera') {
    forget()
    open('camera', at.job)
  }
  // A browser opens the camera only shortly after a touch: the note of where we are must not take longer than this.
  await Promise.race([beforeCamera(at).catch(() => undefined), new Promise((r) => setTimeout(r, 400))])
  inputs[source]?.click()
}

export function cancelled(): void {
  void dropPending().catch(() => undefined)
}

/** Takes what the camera or gallery handed over, one after another. */
export async function taken(files: Iterable<File>, source: Source, fallback: Where): Promise<void> {
  const at = pointed ?? fallback
  pendingWords.value = ''
  if (route.value.screen !== 'camera') instead('camera', at.job)
  for (const file of files) await keep(at, URL.createObjectURL(file), () => takePhoto(at, file, source))
}

/** Adds one picture to the series: at first being saved, then saved or not, then with its hints. */
export async function keep(at: Where, url: string, act: () => Promise<SavedPhoto>): Promise<void> {
  const key = next++
  series.value = [{ key, at, state: 'keeping', why: '', url, hints: null, settled: false, files: [], record: '' }, ...series.value]
  try {
    const saved = await act()
    amend(key, { state: 'saved', record: saved.id })
    navigator.vibrate?.(30)
    amend(key, { hints: await saved.hints.catch(() => null) })
  } catch (fault) {
    amend(key, { state: 'failed', why: sentence(fault), files: fault instanceof NotSaved ? fault.files : [] })
    navigator.vibrate?.([80, 60, 80])
  }
}

export function amend(key: number, change: Partial<Shot>): void {
  series.value = series.value.map((shot) => (shot.key === key ? { ...shot, ...change } : shot))
}

/** Why a picture should be looked at once more; '' when nothing is wrong with it. */
export function faultOf({ state, settled, hints }: Shot): 'failed' | 'blurred' | 'dark' | 'bright' | '' {
  if (settled) return ''
  if (state === 'failed') return 'failed'
  if (state !== 'saved' || !hints) return ''
  if (hints.blurred) return 'blurred'
  return hints.exposure === 'dark' || hints.exposure === 'bright' ? hints.exposure : ''
}

/** Going on to the next picture answers the hints on the last one; a picture that was not saved is never passed over. */
export function goOn(): void {
  series.value = series.value.map((shot) => (shot.state === 'saved' ? { ...shot, settled: true } : shot))
}

/** Clears the sitting. A picture that is still being saved, or was not saved, stays in hand. */
export function forget(): void {
  const gone = series.value.filter((shot) => shot.state === 'saved')
  for (const shot of gone) URL.revokeObjectURL(shot.url)
  series.value = series.value.filter((shot) => shot.state !== 'saved')
}
