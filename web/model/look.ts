/** Light or dark: as the device asks for, or as chosen. */
import { effect, signal } from "@preact/signals";

export const LOOKS = ["device", "light", "dark"] as const;
export type Look = (typeof LOOKS)[number];

export const look = signal<Look>("device");

/** Puts the choice on the page, now and whenever it or the device's wish changes: the rules of style follow `data-look`. */
export function followLook(): void {
  const wish = matchMedia("(prefers-color-scheme: dark)");
  const deviceIsDark = signal(wish.matches);
  wish.addEventListener("change", () => {
    deviceIsDark.value = wish.matches;
  });
  effect(() => {
    const dark = look.value === "dark" || (look.value === "device" && deviceIsDark.value);
    document.documentElement.dataset.look = dark ? "dark" : "light";
  });
}
