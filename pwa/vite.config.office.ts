import { defineConfig } from 'vite'
import { face } from './vite.config.shared.ts'

export default defineConfig(face('office', '/'))
