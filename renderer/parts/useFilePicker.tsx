import { useRef, type ReactNode } from "react"

/**
 * Lets the user choose files: `pick` opens the shell's dialog, else the browser's, which needs `input` somewhere on the page,
 * named by `label` for those who hear it.
 */
export function useFilePicker(
  label: string,
  onFiles: (files: readonly File[]) => void,
): { readonly pick: () => void; readonly input: ReactNode } {
  const input = useRef<HTMLInputElement>(null)
  const pick = () => {
    const shell = window.stintbook
    if (shell === undefined) input.current?.click()
    else
      void shell
        .openFiles()
        .then((files) => onFiles(files.map(({ name, bytes }) => new File([bytes.slice()], name))))
  }
  return {
    pick,
    input: (
      <input
        ref={input}
        type="file"
        multiple
        hidden
        aria-label={label}
        onChange={({ target }) => {
          onFiles([...(target.files ?? [])])
          target.value = ""
        }}
      />
    ),
  }
}
