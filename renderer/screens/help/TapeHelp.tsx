export default function TapeHelp() {
  return null
}
