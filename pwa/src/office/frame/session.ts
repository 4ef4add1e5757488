// Who is signed in, and on which server.

import { computed, signal } from '@preact/signals'
import { get, post, whenSignedOut } from './api'
import { remember, WORKSHOP } from './kept.ts'
import type { Head, Me, Person } from './shapes'

/** undefined: not asked yet; null: nobody. */
export const me = signal<Me | null | undefined>(undefined)
/** True when someone was signed in and no longer is: the page behind stays, with what was typed. */
export const lapsed = signal(false)
export const troubleAtStart = signal('')
export const head = signal<Head | null>(null)
export const isManager = computed(() => me.value?.person.role === 'manager')

whenSignedOut(() => {
  if (me.value) lapsed.value = true
  else me.value = null
})

/** Asks who is signed in. */
export async function recall(): Promise<void> {
  try {
    troubleAtStart.value = ''
    const told = await get<Me>('/api/office/me')
    me.value = told
    head.value = told.head
    remember(WORKSHOP, told.workshop.name)
    lapsed.value = false
  } catch (trouble) {
    if ((trouble as { status?: number }).status === 401) me.value = null
    else {
      troubleAtStart.value = (trouble as Error).message
      me.value ??= null
    }
  }
}

export async function signIn(name: string, password: string): Promise<void> {
  await post<{ person: Person }>('/api/office/sign-in', { name, password })
  await recall()
}

export async function signOut(): Promise<void> {
  await post('/api/office/sign-out').catch(() => undefined)
  me.value = null
  lapsed.value = false
}

/** The last head again; quiet when the server cannot be asked. */
export async function lookAtHead(): Promise<void> {
  const told = await get<Me>('/api/office/me').catch(() => null)
  if (told) head.value = told.head
}
