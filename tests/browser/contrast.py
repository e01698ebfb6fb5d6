"""Words on a page that stand out too little from what is painted under them (WCAG 2.1, 4.5 to 1), as a browser shows them."""

LEAST = 4.5
COLOURS = """
    const parts = colour => (colour.match(/[\\d.]+/g) ?? []).map(Number);
    const light = ([r, g, b]) => [r, g, b]
        .map(part => part / 255).map(part => part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4)
        .reduce((sum, part, n) => sum + part * [0.2126, 0.7152, 0.0722][n], 0);
    const over = (top, below, share) => top.slice(0, 3).map((part, n) => share * part + (1 - share) * below[n]);
    const opacity = one => one ? Number(getComputedStyle(one).opacity) * opacity(one.parentElement) : 1;
    const ground = one => {
        const own = parts(getComputedStyle(one).backgroundColor);
        return own.length === 3 ? own : over(own, one.parentElement ? ground(one.parentElement) : [255, 255, 255], own[3]);
    };
    const told = (text, ink, share, paper) => {
        const [dark, bright] = [light(over(ink, paper, share)), light(paper)].sort((one, other) => one - other);
        const contrast = (bright + 0.05) / (dark + 0.05);
        return contrast < LEAST ? [`${text.trim().slice(0, 60)}: ${ink} on ${paper.map(Math.round)}, ${contrast.toFixed(1)}`] : [];
    };
""".replace("LEAST", str(LEAST))
# svg texts on one even colour: what is painted under a text's middle is asked of the page
OF_PICTURES = (
    """within => {
    COLOURS
    const style = document.createElement("style");
    style.textContent = "* { pointer-events: visiblePainted !important } .modebar, .draglayer, .hoverlayer { display: none }";
    document.head.append(style);
    const pale = [];
    for (const text of document.querySelectorAll(within)) {
        if (!text.textContent.trim() || !text.getClientRects().length) continue;
        text.scrollIntoView({ block: "center" });
        const box = text.getBoundingClientRect(), picture = text.closest(".svg-container") ?? text.closest("svg");
        const under = document.elementsFromPoint(box.x + box.width / 2, box.y + box.height / 2)
            .filter(one => !one.closest("text") && one instanceof SVGElement && picture.contains(one));
        let paper = ground(picture.querySelector(".main-svg") ?? picture);
        if (under.some(one => one.localName === "image" || getComputedStyle(one).fill.startsWith("url"))) continue;
        for (const one of under.reverse()) {
            const look = getComputedStyle(one), fill = parts(look.fill);
            const { width, height } = one.getBBox();
            if (fill.length < 3 || ["svg", "g"].includes(one.localName) || !width || !height) continue;
            paper = over(fill, paper, (fill[3] ?? 1) * Number(look.fillOpacity) * opacity(one));
        }
        const look = getComputedStyle(text), ink = parts(look.fill);
        pale.push(...told(text.textContent, ink, (ink[3] ?? 1) * Number(look.fillOpacity) * opacity(text), paper));
    }
    style.remove();
    return pale;
}"""
).replace("COLOURS", COLOURS)
OF_WORDS = (
    """within => {
    COLOURS
    const pale = [];
    for (const one of document.querySelectorAll(`${within} *`)) {
        const says = one.localName === "select"
            || [...one.childNodes].some(node => node.nodeType === Node.TEXT_NODE && node.textContent.trim());
        if (!says || one.closest("svg, option") || !one.getClientRects().length) continue;
        const ink = parts(getComputedStyle(one).color);
        pale.push(...told(one.textContent, ink, (ink[3] ?? 1) * opacity(one), ground(one)));
    }
    return pale;
}"""
).replace("COLOURS", COLOURS)
