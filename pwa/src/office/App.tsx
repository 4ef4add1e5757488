export function App() {
  return <main>The office</main>
}
