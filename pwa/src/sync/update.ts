// The app updates only on request, and never under an open draft or a running recording.
import { computed, signal } from '@preact/signals'
import { openDrafts, type UpdateState } from '../store/index.ts'
import { say } from '../store/say.ts'

const ready = signal(false)
let waitingWorker: ServiceWorker | null = null
let busy: () => boolean = () => false

export const update = computed<UpdateState>(() => {
  const allowed = ready.value && openDrafts.value === 0 && !busy()
  const words = !ready.value ? '' : allowed ? say('update.ready') : say('update.finish_first')
  return { ready: ready.value, allowed, words }
})

/** Registers the worker. `isBusy` may read signals: a recording under way counts as busy. */
export async function watchUpdates(isBusy: () => boolean): Promise<void> {
  busy = isBusy
  if (typeof navigator === 'undefined' || !navigator.serviceWorker) return
  const registration = await navigator.serviceWorker.register('/bay/sw.js', { scope: '/bay/', updateViaCache: 'none' })
  const look = () => {
    // A first install has no controller: there is nothing old to be replaced.
    if (!registration.waiting || !navigator.serviceWorker.controller) return
    waitingWorker = registration.waiting
    ready.value = true
  }
  look()
  registration.addEventListener('updatefound', () => registration.installing?.addEventListener('statechange', look))
  document.addEventListener('visibilitychange', () => document.visibilityState === 'visible' && void registration.update().catch(() => undefined))
}

export function updateNow(): void {
  if (!update.value.allowed || !waitingWorker) return
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true })
  waitingWorker.postMessage('update now')
}
