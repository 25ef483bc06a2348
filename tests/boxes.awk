# Words of a PDF that are printed over each other, from pdftotext -bbox.  A box is as high as its
# type may reach, more than its letters do, and letters of one word may touch those of the next: so a
# box is drawn in by a quarter of its height above and below, and by 0.6 points at its ends.
/<page / { page++; count = 0 }
/<word / {
    split($0, part, "\"")
    left = part[2] + 0.6; top = part[4]; right = part[6] - 0.6; foot = part[8]
    text = $0
    sub(/^[^>]*>/, "", text)
    sub(/<\/word>.*/, "", text)
    if (right - left < foot - top) { # turned, or a letter alone: its ends are above and below
        inset = (right - left) / 4
        top += 0.6; foot -= 0.6; left += inset; right -= inset
    } else {
        inset = (foot - top) / 4
        top += inset; foot -= inset
    }
    if (right <= left || foot <= top) next
    for (i = count; i > 0; i--) {
        if (r[i] > left && l[i] < right && f[i] > top && t[i] < foot)
            printf "page %d: \"%s\" over \"%s\" at %.0f, %.0f points\n", page, text, w[i], left, top
    }
    count++
    l[count] = left; r[count] = right; t[count] = top; f[count] = foot; w[count] = text
}
