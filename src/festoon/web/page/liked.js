/** How she likes the page, kept in this browser: its light, and whether the drawer is shut. */

const LIGHT = "festoon-light";
const SHUT = "festoon-drawer-shut";

/** "light", "dark", or "" where it is as the device has it. */
export const likedLight = () => localStorage.getItem(LIGHT) ?? "";

/** @param {string} light */
export function likeLight(light) {
  localStorage.setItem(LIGHT, light);
  lightAsLiked();
}

/** Shows the page in the light that she likes. */
export function lightAsLiked() {
  const light = likedLight();
  if (light) document.documentElement.dataset.light = light;
}

export const drawerShut = () => localStorage.getItem(SHUT) === "yes";

/** @param {boolean} shut */
export function likeDrawerShut(shut) {
  localStorage.setItem(SHUT, shut ? "yes" : "");
}
