/**
 * The page: the editor on the left, the panel beside it. All of it that moves is in the host's module, but for
 * the beginning of the plan, which waits for nothing; the token comes in the address's fragment, which browsers keep to themselves.
 */
export const PAGE = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<title>Tuckline</title>
<base href="/editor/">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="color-scheme" content="light dark">
<link rel="icon" href="/plugin/icon.svg">
<link rel="stylesheet" href="./svgedit.css">
<link rel="stylesheet" href="/plugin/page.css">
<script type="module" async src="/plugin/opening.js"></script>
<script type="module" src="/plugin/svgedit-host.js"></script>
<link rel="modulepreload" href="/editor/Editor.js">
<link rel="modulepreload" href="/plugin/panel.js">
</head>
<body>
<div id="tuckline">
<main id="editor" aria-label="Drawing"></main>
<div id="divider" role="separator" tabindex="0" aria-orientation="vertical" aria-label="Width of the panel"></div>
<aside id="panel" aria-label="Embroidery"></aside>
</div>
<noscript>Tuckline needs JavaScript in the browser.</noscript>
</body>
</html>
`;
