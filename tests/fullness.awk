# How far down the page its last word stands, in hundredths of the page: "1 97", from pdftotext -bbox.
/<page / { split($0, part, "\""); if (page) print page, int(100 * lowest / height); page++; height = part[4]; lowest = 0 }
/<word / { split($0, part, "\""); if (part[8] > lowest) lowest = part[8] }
END { print page, int(100 * lowest / height) }
