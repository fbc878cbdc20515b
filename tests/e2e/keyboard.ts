import type { Page } from "playwright-core"

/** Characters that a US keyboard types with Shift, which is a key of its own. */
const shifted = /[~!@#$%^&*()_+{}|:"<>?A-Z]/

/** A person's keyboard: every key that goes down is counted, Shift and other held keys too. */
export type Keyboard = {
  /** Types a text; a line end is Enter, a tab is Tab. */
  readonly type: (text: string) => Promise<void>
  readonly press: (key: string) => Promise<void>
  readonly keys: () => number
}

export function keyboardOf(page: Page): Keyboard {
  let count = 0
  const press = async (key: string): Promise<void> => {
    count += key === "+" ? 2 : key.split("+").length
    await page.keyboard.press(key)
  }
  return {
    press,
    type: async (text) => {
      for (const letter of text) {
        if (letter === "\n") await press("Enter")
        else if (letter === "\t") await press("Tab")
        else {
          count += shifted.test(letter) ? 2 : 1
          await page.keyboard.type(letter)
        }
      }
    },
    keys: () => count,
  }
}
