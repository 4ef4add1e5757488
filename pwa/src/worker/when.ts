// WHEN a build takes over: a new one waits until the app asks, and the app asks only when nothing is open.
import { answer, answerPart, dropOthers, fileFor, isPart, keepAll } from './how.ts'

interface Waiting extends Event {
  waitUntil(work: Promise<unknown>): void
}
interface FetchEvent extends Waiting {
  request: Request
  respondWith(answer: Promise<Response>): void
}
interface Scope {
  registration: { scope: string }
  clients: { claim(): Promise<void> }
  skipWaiting(): Promise<void>
  addEventListener<E extends Event>(name: string, listener: (event: E) => void): void
}

const worker = self as unknown as Scope

worker.addEventListener<Waiting>('install', (event) => event.waitUntil(keepAll(worker.registration.scope)))

worker.addEventListener<Waiting>('activate', (event) => event.waitUntil(dropOthers().then(() => worker.clients.claim())))

worker.addEventListener<MessageEvent & Waiting>('message', (event) => {
  if (event.data === 'update now') event.waitUntil(worker.skipWaiting())
})

worker.addEventListener<FetchEvent>('fetch', (event) => {
  const { scope } = worker.registration
  const file = fileFor(event.request, scope)
  if (file !== null) event.respondWith(answer(file, scope))
  else if (isPart(event.request, scope)) event.respondWith(answerPart(event.request, scope))
})
