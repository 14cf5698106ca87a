// The planner: an address holds only what was typed, and the plan is printed as it stands.
document.querySelector("[data-plan]").addEventListener("formdata", (event) => {
  for (const [name, value] of [...event.formData]) if (!value.trim()) event.formData.delete(name);
});
for (const button of document.querySelectorAll("[data-print]")) {
  button.hidden = false;
  button.addEventListener("click", () => print());
}
