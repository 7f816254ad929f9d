// How a screen stands: nothing too wide, nothing cut, no word over another.

/** Waits until a window of another size is laid out and what watches sizes has heard of it: whatever clock a test holds, those do. */
export const laidOut = (page) =>
    page.evaluate(
        () =>
            new Promise((done) => {
                const watch = new ResizeObserver(() => {
                    watch.disconnect();
                    done();
                });
                watch.observe(document.documentElement);
            }),
    );

/** Puts a look on, as the button in the corner would; its letters are there when it is worn. */
export const wear = (page, look) =>
    page.evaluate(async (word) => {
        document.documentElement.dataset.look = word;
        document.body.getBoundingClientRect(); // asks for the letters
        await document.fonts.ready;
    }, look);

/** How far the page reaches past its own width, in CSS px. */
export const overhang = (page) =>
    page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);

/** Elements whose text is cut: it needs more room than its box gives and does not show the rest. */
export const cutTexts = (page) =>
    page.evaluate(() =>
        [...document.querySelectorAll('body *:not(svg, svg *)')]
            .filter((element) => element.clientWidth > 0 && !element.closest('.hide')) // heard, not seen
            .filter((element) => getComputedStyle(element).overflow !== 'visible')
            .filter((e) => e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)
            .map((element) => element.outerHTML.slice(0, 80)),
    );

/** Texts outside the window, and boxes of text that lie over each other. */
export const collidingTexts = (page) =>
    page.evaluate(() => {
        const boxes = [];
        const walker = document.createTreeWalker(document.getElementById('app'), NodeFilter.SHOW_TEXT);
        for (let node = walker.nextNode(); node; node = walker.nextNode()) {
            if (!node.textContent.trim() || node.parentElement.closest('svg, .hide') || !node.parentElement.checkVisibility()) continue;
            const range = document.createRange();
            range.selectNodeContents(node);
            for (const box of range.getClientRects())
                if (box.width > 0) boxes.push({ node, box, text: node.textContent });
        }
        const faults = boxes
            .filter(({ box }) => box.left < -1 || box.right > innerWidth + 1)
            .map(({ text }) => `outside: ${text}`);
        // Line boxes of one line height may touch by some px; letters overlap only beyond a third of the line.
        for (let i = 0; i < boxes.length; i++)
            for (let k = i + 1; k < boxes.length; k++) {
                const [a, b] = [boxes[i].box, boxes[k].box];
                const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
                const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
                if (wide > 1 && high > Math.min(a.height, b.height) / 3)
                    faults.push(`${boxes[i].text} over ${boxes[k].text}`);
            }
        return faults;
    });
