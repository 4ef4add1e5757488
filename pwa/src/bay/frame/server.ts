// The object through which the screens reach the server; handed in from outside, see store/server.ts.
import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { Server } from '../../store/index.ts'

const ServerContext = createContext<Server | null>(null)

export const ServerProvider = ServerContext.Provider

export function useServer(): Server {
  const server = useContext(ServerContext)
  if (!server) throw new Error('The bay was drawn without its server.')
  return server
}
