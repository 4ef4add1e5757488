// Which screen is shown: the part of the address behind the #, so that the phone's own back button works without signal.
import { signal } from '@preact/signals'
import { getSetting, putSetting } from '../../store/index.ts'

export interface Route {
  /** 'jobs', 'job', 'say', … */
  screen: string
  job: string
  /** What the screen speaks of besides the job: a record, a sheet. */
  about: string
}

const LAST = 'screen'
/** Opens a screen that begins to record without another touch. */
export const AT_ONCE = 'now'
// Screens that make no sense to come back to after a cold start.
const PASSING = ['join', 'who', 'picture']

/** '#/job/<id>/measure/<about>' or '#/phone/<about>'. Unknown addresses lead to the jobs. */
export function read(hash: string): Route {
  const [first = '', second = '', third = '', fourth = ''] = hash.replace(/^#\/?/, '').split('/').map(decodeURIComponent)
  if (first === 'job' && second) return { screen: third || 'bench', job: second, about: fourth }
  return { screen: first || 'jobs', job: '', about: second }
}

export function write({ screen, job, about }: Partial<Route> & { screen: string }): string {
  const parts = job ? ['job', job, screen === 'bench' && !about ? '' : screen, about] : [screen, about]
  return `#/${parts.filter(Boolean).map((p) => encodeURIComponent(p!)).join('/')}`
}

export const route = signal<Route>({ screen: 'jobs', job: '', about: '' })

/** Opens a screen. */
export function open(screen: string, job = '', about = ''): void {
  const hash = write({ screen, job, about })
  if (location.hash === hash) return
  location.hash = hash
}

/** Opens a screen in the place of the present one: the back button does not return here. */
export function instead(screen: string, job = '', about = ''): void {
  history.replaceState(null, '', write({ screen, job, about }))
  follow()
}

export function follow(): void {
  route.value = read(location.hash)
  if (PASSING.includes(route.value.screen)) return
  // A browser that refuses this little refuses the records too; the start says so.
  void putSetting(LAST, location.hash).catch(() => undefined)
}

/** Follows the address from now on, and takes up the screen that was open when the app was last closed. */
export async function begin(): Promise<void> {
  const last = await getSetting<string>(LAST).catch(() => null)
  if (!location.hash && last) history.replaceState(null, '', last)
  addEventListener('hashchange', follow)
  follow()
}
