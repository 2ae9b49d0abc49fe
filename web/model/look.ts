/** Light or dark: as the device asks for, or as chosen. */
import { effect, signal } from "@preact/signals";

export type Look = "device" | "light" | "dark";

export const LOOKS: readonly (readonly [Look, string])[] = [
  ["device", "as the device"],
  ["light", "light"],
  ["dark", "dark"],
];

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
