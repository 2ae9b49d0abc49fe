/** The season's page needs no script to be read; this one only follows the device's wish for light or dark. */
import "../styles/season.css";

const wish = matchMedia("(prefers-color-scheme: dark)");

function follow(): void {
  document.documentElement.dataset.look = wish.matches ? "dark" : "light";
}

wish.addEventListener("change", follow);
follow();
