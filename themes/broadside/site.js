// Makes a stop for the keyboard of every drawing that is wider than its place.
const stops = new ResizeObserver((entries) => {
  for (const { target } of entries) {
    const wide = target.scrollWidth > target.clientWidth;
    const name = target.querySelector("[aria-labelledby]")?.getAttribute("aria-labelledby");
    if (!name) continue;
    for (const [key, value] of [["tabindex", "0"], ["role", "group"], ["aria-labelledby", name]]) {
      if (wide) target.setAttribute(key, value);
      else target.removeAttribute(key);
    }
  }
});
for (const drawn of document.querySelectorAll(".drawn")) stops.observe(drawn);

// Remembers which units a reader chose. The choice itself works without this.
const KEY = "notchbook-units";
const choices = document.querySelectorAll("input[name=units]");

function kept() {
  try {
    return localStorage.getItem(KEY);
  } catch {
    return null;
  }
}

for (const choice of choices) {
  if (choice.value === kept()) choice.checked = true;
  choice.addEventListener("change", () => {
    try {
      localStorage.setItem(KEY, choice.value);
    } catch {
      // Storage is closed: the choice holds for this page alone.
    }
  });
}
