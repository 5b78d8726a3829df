// Keeps a page of a trial copy as it is on the author's disk. No published page has this script.
const shown = document.currentScript.dataset.version;
const here = encodeURIComponent(decodeURIComponent(location.pathname));
const parser = new DOMParser();

// Where a note goes: below a heading, a drawing, or the words of a step.
function spot(id) {
  const found = document.getElementById(id);
  if (!found) return null;
  const figure = found.closest("svg") && (found.closest("figure") || found.closest("svg"));
  if (figure) return figure;
  if (/^H\d$/.test(found.tagName)) return found;
  const words = found.querySelector(".words");
  if (words) return words.lastElementChild; // a long caution in the margin would push it down
  return found.querySelector(":scope > header, :scope > h2") || found.firstElementChild;
}

// Puts each problem that has a place on this page there too, and leads to it from the panel.
function place(panel) {
  for (const note of document.querySelectorAll(".notchbook-beside")) note.remove();
  let number = 0;
  for (const row of panel.querySelectorAll("[data-beside]")) {
    let at = spot(row.dataset.beside);
    if (!at) continue;
    while (at.nextElementSibling?.matches(".notchbook-beside")) at = at.nextElementSibling;
    const note = document.createElement(at.closest("ol, ul, dl") && at.tagName === "LI" ? "li" : "div");
    note.className = "notchbook-beside";
    note.id = `notchbook-problem-${++number}`;
    note.setAttribute("role", "note");
    note.append(...[...row.children].map((child) => child.cloneNode(true)));
    at.after(note);
    const link = document.createElement("a");
    link.href = `#${note.id}`;
    link.textContent = "Show its place";
    row.lastElementChild.append(" ", link);
  }
}

function take(said) {
  const { page, panel } = JSON.parse(said.data);
  if (page !== shown) {
    location.reload();
    return;
  }
  const old = document.getElementById("notchbook-proof");
  const fresh = parser.parseFromString(panel, "text/html").getElementById("notchbook-proof");
  if (!old || !fresh) return;
  // One that an author has folded stays folded while what is wrong changes.
  const folded = old.matches(".wrong") && !old.querySelector("details").open;
  if (folded) fresh.querySelector("details").open = false;
  old.replaceWith(fresh);
  place(fresh);
}

addEventListener("load", () => {
  place(document.getElementById("notchbook-proof"));
  const events = new EventSource(`/.proof/events?page=${here}`);
  events.addEventListener("message", take);
  events.addEventListener("error", () => {
    const panel = document.getElementById("notchbook-proof");
    panel.classList.add("ended");
    panel.querySelector("[role=status]").textContent =
      "not up to date: notchbook proof has stopped";
  });
});
