const hold = document.getElementById("hold");
setInterval(() => {
  const reading = hold.checked || document.hidden || !getSelection().isCollapsed || document.querySelector("details[open]");
  if (!reading) location.reload();
}, 3000);
