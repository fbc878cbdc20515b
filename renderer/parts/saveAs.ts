/** Hands a file over to be saved where its user wants it: by the shell's own dialog, else as a download. */
export async function saveAs(name: string, type: string, content: string | Blob | Uint8Array): Promise<void> {
  const blob =
    content instanceof Blob
      ? content
      : new Blob([typeof content === "string" ? content : content.slice()], { type })
  const shell = window.stintbook
  if (shell === undefined) download(name, blob)
  else await shell.saveFile({ name, bytes: new Uint8Array(await blob.arrayBuffer()) })
}

function download(name: string, blob: Blob): void {
  const address = URL.createObjectURL(blob)
  const link = document.createElement("a")
  link.href = address
  link.download = name
  link.click()
  setTimeout(() => URL.revokeObjectURL(address), 60_000)
}

/** Text that a spreadsheet would run as a formula. */
const formula = /^[=+\-@\t\r]/

/** A table as RFC 4180 CSV; what a spreadsheet would take for a formula is kept text by an apostrophe. */
export const csvText = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, ...rows].map((row) => row.map(cell).join(",")).join("\r\n")

function cell(text: string): string {
  const safe = formula.test(text) && Number.isNaN(Number(text)) ? `'${text}` : text
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe
}
