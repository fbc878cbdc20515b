export default function Roster() { return null }
