// Opening the link is the one tap: say so at once, and leave the button for whoever has no scripts.
/** @type {HTMLFormElement} */ (document.getElementById("seen")).submit();
