// Says early that scripts run, so that the keypad takes its place and script-free controls step back.
document.documentElement.classList.add("scripted");
