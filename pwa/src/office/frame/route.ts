// Where the reader is, held in the part of the address behind '#': it can be sent to a colleague and returned to.

import { signal } from '@preact/signals'

export interface Route {
  path: string[]
  values: Record<string, string>
}

/** "#/job/12/record?place=bore%2F3" -> path ["job","12","record"], values {place:"bore/3"} */
export function parse(hash: string): Route {
  const [path = '', values = ''] = hash.replace(/^#\/?/, '').split('?')
  return {
    path: path.split('/').filter(Boolean).map(decodeURIComponent),
    values: Object.fromEntries(new URLSearchParams(values)),
  }
}

/** The address of a place in the office; empty values are left out. */
export function address(path: string[], values: Record<string, string | undefined> = {}): string {
  const set = Object.entries(values).filter((pair): pair is [string, string] => Boolean(pair[1]))
  const text = new URLSearchParams(set).toString()
  return `#/${path.map(encodeURIComponent).join('/')}${text && `?${text}`}`
}

export const route = signal<Route>({ path: [], values: {} })

/** Starts following the address bar. */
export function follow(): void {
  const read = () => {
    route.value = parse(location.hash)
  }
  addEventListener('hashchange', read)
  addEventListener('popstate', read)
  read()
}

/** Goes there; `replace` leaves no step to go back to. */
export function go(path: string[], values: Record<string, string | undefined> = {}, replace = false): void {
  const target = address(path, values)
  if (target === location.hash) return
  history[replace ? 'replaceState' : 'pushState'](null, '', target)
  route.value = parse(target)
}

/** Changes some values of the address and keeps the rest; undefined removes a value. */
export function set(changes: Record<string, string | undefined>, replace = false): void {
  go(route.value.path, { ...route.value.values, ...changes }, replace)
}
