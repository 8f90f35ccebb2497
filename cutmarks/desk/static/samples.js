"use strict";
/* What stands in empty fields is shown in the units of the job, or in those that were chosen. */
addEventListener("units", (event) => {
  for (const one of document.querySelectorAll("[data-inches]")) {
    const words = event.detail === "in" ? one.dataset.inches : one.dataset.mm;
    if ("placeholder" in one) one.placeholder = words; else one.textContent = words;
  }
});
