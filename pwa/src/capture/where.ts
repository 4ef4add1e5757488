// Which job and place the next record belongs to. It stays until it is changed, and survives a restart.
import { signal } from '@preact/signals'
import { dropSetting, getSetting, putSetting, type Location } from '../store/index.ts'

export interface Where {
  job: string
  place: string
  point: string
}

export const where = signal<Where | null>(null)

export async function stayAt(next: Where | null): Promise<void> {
  where.value = next
  await (next ? putSetting('where', next) : dropSetting('where'))
}

export async function resumeWhere(): Promise<void> {
  where.value = await getSetting<Where>('where')
}

export const locationOf = ({ place, point }: Where): Location | null => (place ? { place, point } : null)

/** Written before the camera opens: if the page is killed meanwhile, the next start leads back to this very place. */
export async function beforeCamera(at: Where): Promise<void> {
  await putSetting('pending_capture', { ...at, since: new Date().toISOString() })
}

export async function pendingCapture(): Promise<(Where & { since: string }) | null> {
  return getSetting<Where & { since: string }>('pending_capture')
}

export async function dropPending(): Promise<void> {
  await dropSetting('pending_capture')
}
