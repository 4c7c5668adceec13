"use strict";
{
  const buttons = [...document.querySelectorAll("button.page")];
  const byPage = new Map(buttons.map((button) => [Number(button.id.slice(1)), button]));
  const found = buttons.filter((button) => button.classList.contains("found"));
  const gatherings = [...document.querySelectorAll(".gathering")];
  const book = document.getElementById("open");
  const leaves = book.querySelector(".open-book");
  const last = buttons.length;
  let at = 1;
  let opened = 1;

  const pageOf = (button) => Number(button.id.slice(1));

  function go(page, block = "nearest") {
    const button = byPage.get(Math.min(Math.max(page, 1), last));
    byPage.get(at).tabIndex = -1;
    at = pageOf(button);
    button.tabIndex = 0;
    button.focus({ preventScroll: true });
    button.scrollIntoView({ block, inline: "nearest" });
  }

  function below(button, way) {
    const from = button.getBoundingClientRect();
    const middle = from.left + from.width / 2;
    const step = way > 0 ? 1 : -1;
    let page = pageOf(button);
    let best = null;
    let line = null;
    for (page += step; byPage.has(page); page += step) {
      const box = byPage.get(page).getBoundingClientRect();
      if (Math.abs(box.bottom - from.bottom) < 8) continue;
      if (line !== null && Math.abs(box.bottom - line) > 8) break;
      line = box.bottom;
      const away = Math.abs(box.left + box.width / 2 - middle);
      if (best === null || away < best.away) best = { page, away };
    }
    return best ? best.page : pageOf(button);
  }

  function gathering(button, way) {
    const here = gatherings.indexOf(button.closest(".gathering")) + way;
    const there = gatherings[Math.min(Math.max(here, 0), gatherings.length - 1)];
    return pageOf(there.querySelector(".page"));
  }

  function nextFinding(page, way) {
    const pages = found.map(pageOf);
    const ahead = way > 0 ? pages.find((one) => one > page) : pages.findLast((one) => one < page);
    return ahead ?? (way > 0 ? pages[0] : pages.at(-1)) ?? page;
  }

  const moves = {
    ArrowRight: (button) => pageOf(button) + 1,
    ArrowLeft: (button) => pageOf(button) - 1,
    ArrowDown: (button) => below(button, 1),
    ArrowUp: (button) => below(button, -1),
    PageDown: (button) => gathering(button, 1),
    PageUp: (button) => gathering(button, -1),
    Home: () => 1,
    End: () => last,
    n: (button) => nextFinding(pageOf(button), 1),
    N: (button) => nextFinding(pageOf(button), -1),
  };

  document.getElementById("gatherings").addEventListener("keydown", (event) => {
    const button = event.target.closest("button.page");
    const move = moves[event.key];
    if (!button || !move || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    go(move(button));
  });

  document.getElementById("gatherings").addEventListener("click", (event) => {
    const button = event.target.closest("button.page");
    if (button) openAt(pageOf(button));
  });

  document.addEventListener("click", (event) => {
    const link = event.target.closest('a[href^="#p"]');
    if (!link) return;
    event.preventDefault();
    history.replaceState(null, "", link.getAttribute("href"));
    go(Number(link.getAttribute("href").slice(2)), "center");
    mark(byPage.get(at));
  });

  function mark(button) {
    for (const shown of document.querySelectorAll(".shown")) shown.classList.remove("shown");
    button.classList.add("shown");
  }

  /* The book opened: verso left, recto right. */
  function openAt(page) {
    opened = page;
    const verso = page - (page % 2);
    const pages = [verso, verso + 1].filter((one) => byPage.has(one));
    leaves.replaceChildren(...pages.map(side));
    document.getElementById("open-title").textContent =
      pages.length > 1 ? `Pages ${pages[0]} and ${pages[1]}` : `Page ${pages[0]}`;
    document.getElementById("back").ariaDisabled = String(verso < 2);
    document.getElementById("on").ariaDisabled = String(verso + 2 > last);
    if (!book.open) book.showModal();
  }

  function side(page) {
    const button = byPage.get(page);
    const figure = document.createElement("figure");
    figure.className = button.classList.contains("recto") ? "recto" : "verso";
    const paper = button.querySelector(".paper").cloneNode(true);
    for (const sign of paper.querySelectorAll(".flag")) sign.remove();
    const picture = paper.querySelector("img");
    if (picture) {
      picture.loading = "eager";
      picture.alt = `Page ${page}`;
      const [width, height] = ["width", "height"].map((side) => picture.getAttribute(side));
      paper.style.setProperty("--ratio", String(width / height));
    }
    const caption = document.createElement("figcaption");
    caption.textContent = button.getAttribute("aria-label");
    const more = document.createElement("span");
    more.className = "more";
    more.textContent = button.dataset.more;
    caption.append(more);
    figure.append(paper, caption);
    return figure;
  }

  function shut() {
    book.close();
    leaves.replaceChildren();
    go(opened);
  }

  function turn(way) {
    const verso = opened - (opened % 2) + 2 * way;
    if (verso >= 0 && verso <= last) openAt(Math.max(verso, 1));
  }

  document.getElementById("back").addEventListener("click", () => turn(-1));
  document.getElementById("on").addEventListener("click", () => turn(1));
  document.getElementById("close").addEventListener("click", shut);
  book.addEventListener("click", (event) => {
    if (event.target === book) shut();
  });
  book.addEventListener("cancel", (event) => {
    event.preventDefault();
    shut();
  });
  book.addEventListener("keydown", (event) => {
    const turns = { ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1 };
    if (event.key in turns) {
      event.preventDefault();
      turn(turns[event.key]);
    } else if (event.key === "Escape") {
      event.preventDefault();
      shut();
    } else if (event.key === "Home" || event.key === "End") {
      event.preventDefault();
      openAt(event.key === "Home" ? 1 : last);
    }
  });

  /* Formes borrow the pictures of the pages when they are first opened. */
  for (const formes of document.querySelectorAll("details.formes")) {
    formes.addEventListener("toggle", () => {
      for (const cell of formes.querySelectorAll(".cell")) {
        const paper = cell.querySelector(".paper");
        const source = byPage.get(Number(cell.dataset.page));
        if (!paper.firstChild && source) {
          paper.replaceWith(source.querySelector(".paper").cloneNode(true));
        }
      }
    });
  }

  /* The gathering in view is the current one among the backs. */
  const backs = new Map([...document.querySelectorAll(".backs a")].map((a) => [a.hash.slice(1), a]));
  const seen = new Set();
  const watch = new IntersectionObserver((changes) => {
    for (const change of changes) {
      seen[change.isIntersecting ? "add" : "delete"](change.target.id);
    }
    const first = gatherings.find((one) => seen.has(one.id));
    for (const [id, link] of backs) {
      if (first && id === first.id) link.setAttribute("aria-current", "location");
      else link.removeAttribute("aria-current");
    }
  }, { rootMargin: "-90px 0px -40% 0px" });
  for (const one of gatherings) watch.observe(one);
}
