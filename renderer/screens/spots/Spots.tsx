export default function Spots() { return null }
