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
