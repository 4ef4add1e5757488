// The one object through which the screens ask the server for something; handed in from outside, see store/server.ts.
import { createContext } from 'preact'
import { useContext } from 'preact/hooks'
import type { Server } from '../../store/index.ts'

const Ask = createContext<Server | null>(null)

export const AskProvider = Ask.Provider

export function useServer(): Server {
  const server = useContext(Ask)
  if (!server) throw new Error('The bay was drawn without its server.')
  return server
}
