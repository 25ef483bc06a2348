-- The printed order becomes the tablet's page: boxes and blanks are fields, a drawing in true size
-- says that a screen does not show it so, a table scrolls by itself, and the run goes along as data
-- (run.json, in which nothing can be markup).

local box = pandoc.RawInline("html", '<input type="checkbox" aria-label="done">')
local blank = pandoc.RawInline("html", '<input type="text" size="8" aria-label="reading">')

-- A word with boxes or blanks in it, in pieces.
local function fields(word)
    local pieces, rest = pandoc.List(), word.text
    while rest ~= "" do
        local at, to = rest:find("\u{2610}", 1, true)
        local line, line_end = rest:find("________+")
        local field = box
        if line and (not at or line < at) then at, to, field = line, line_end, blank end
        if not at then break end
        if at > 1 then pieces:insert(pandoc.Str(rest:sub(1, at - 1))) end
        pieces:insert(field)
        rest = rest:sub(to + 1)
    end
    if #pieces == 0 then return nil end
    if rest ~= "" then pieces:insert(pandoc.Str(rest)) end
    return pieces
end

local function begins_with_box(item)
    local first = item[1] and item[1].content and item[1].content[1]
    return first and first.t == "RawInline" and first.text == box.text
end

-- What is quoted is the recipe's own words: no box in it is ours.
local function inert(block)
    return block:walk { RawInline = function(raw) return pandoc.Str(raw.text == box.text and "\u{2610}" or "________") end }
end

local function is_to_scale(image)
    local words = pandoc.utils.stringify(image.caption)
    return words:find("true size", 1, true) or words:find("scale %d+:%d+")
end

local note = pandoc.Div(
    pandoc.Para("Not to scale on a screen: cut and measure by the printed order."),
    pandoc.Attr("", { "screen" }))

local function figure(block)
    local image = #block.content == 1 and block.content[1]
    if not image or image.t ~= "Image" or not is_to_scale(image) then return nil end
    return { block, note }
end

local function tasks(list)
    for _, item in ipairs(list.content) do
        if not begins_with_box(item) then return nil end
    end
    return pandoc.Div(list, pandoc.Attr("", { "tasks" }))
end

-- Columns are as wide as what is in them, not as on paper.
local function wide(table)
    for _, column in ipairs(table.colspecs) do column[2] = nil end
    return pandoc.Div(table, pandoc.Attr("", { "wide" }))
end

-- Empty cells of the card's table of readings are there to be written in.
local function readings(document)
    local here
    for _, block in ipairs(document.blocks) do
        if block.t == "Header" then here = block.identifier end
        if block.t == "Div" and here == "read-and-write-down" then
            for _, body in ipairs(block.content[1].bodies) do
                for _, row in ipairs(body.body) do
                    for _, cell in ipairs(row.cells) do
                        if #cell.contents == 0 then cell.contents = { pandoc.Plain(blank) } end
                    end
                end
            end
        end
    end
end

local function run(document)
    readings(document)
    local file = io.open("run.json", "rb")
    local json = file and file:read("a") or ""
    if file then file:close() end
    if json ~= "" then
        document.blocks:insert(pandoc.RawBlock("html",
            '<script type="application/json" id="run">' .. json .. "</script>"))
    end
    return document
end

return {
    { Str = fields },
    { BlockQuote = inert, BulletList = tasks, Para = figure, Table = wide },
    { Pandoc = run },
}
