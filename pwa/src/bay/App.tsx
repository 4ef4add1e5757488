import type { Server } from '../store/index.ts'

export function App({ server }: { server: Server }) {
  return <main>{server.status.value.words}</main>
}
