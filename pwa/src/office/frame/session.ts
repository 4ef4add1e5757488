// Who is signed in, and on which server.

import { computed, signal } from '@preact/signals'
import { get, post, whenSignedOut } from './api'
import { remember, WORKSHOP } from './remembered.ts'
import type { Head, Me, Person } from './shapes'

/** undefined: not known yet; null: nobody. */
export const me = signal<Me | null | undefined>(undefined)
/** True when someone was signed in and no longer is: the page behind stays, with what was typed. */
export const lapsed = signal(false)
/** Why the server could not be reached at the start. */
export const startFault = signal('')
export const head = signal<Head | null>(null)
export const isManager = computed(() => me.value?.person.role === 'manager')

whenSignedOut(() => {
  if (me.value) lapsed.value = true
  else me.value = null
})

/** Loads who is signed in. */
export async function loadSession(): Promise<void> {
  try {
    startFault.value = ''
    const session = await get<Me>('/api/office/me')
    me.value = session
    head.value = session.head
    remember(WORKSHOP, session.workshop.name)
    lapsed.value = false
  } catch (reason) {
    if ((reason as { status?: number }).status === 401) me.value = null
    else {
      startFault.value = (reason as Error).message
      me.value ??= null
    }
  }
}

export async function signIn(name: string, password: string): Promise<void> {
  await post<{ person: Person }>('/api/office/sign-in', { name, password })
  await loadSession()
}

export async function signOut(): Promise<void> {
  await post('/api/office/sign-out').catch(() => undefined)
  me.value = null
  lapsed.value = false
}

/** Loads the latest head; silent when the server does not answer. */
export async function refreshHead(): Promise<void> {
  const session = await get<Me>('/api/office/me').catch(() => null)
  if (session) head.value = session.head
}
