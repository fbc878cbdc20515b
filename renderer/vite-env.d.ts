/// <reference types="vite/client" />

/** Made by build/notices.ts when the page is built. */
declare module "virtual:notices" {
  const notices: import("./build/notices.ts").Notice[]
  export default notices
}
