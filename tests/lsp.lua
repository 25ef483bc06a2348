-- Drives neovim's own client against `plugwright lsp`: nvim --headless --clean -c 'luafile lsp.lua'.
-- PLUGWRIGHT names the program; the working folder holds copies of the recipes.  A line for each
-- thing tried goes to the file `tried`: + SENTENCE, or - SENTENCE.
local out = assert(io.open('tried', 'w'))
local function tried(sentence, fine)
  out:write((fine and '+ ' or '- ') .. sentence .. '\n')
  out:flush()
end

local function main()
  vim.cmd('edit grebe.yaml')
  local buffer = vim.api.nvim_get_current_buf()
  local before = table.concat(vim.api.nvim_buf_get_lines(buffer, 0, -1, true), '\n')
  local id = vim.lsp.start_client({ name = 'plugwright', cmd = { vim.env.PLUGWRIGHT, 'lsp' },
                                    root_dir = vim.fn.getcwd() })
  tried('the client starts', id ~= nil)
  tried('it attaches', vim.lsp.buf_attach_client(buffer, id))
  local client = vim.lsp.get_client_by_id(id)
  tried('it begins', vim.wait(10000, function() return client.initialized end, 10))
  local function shown(count)
    return vim.wait(10000, function() return #vim.diagnostic.get(buffer) == count end, 10)
  end
  local function ask(method, line, column, more)
    local params = { textDocument = vim.lsp.util.make_text_document_params(buffer),
                     position = { line = line, character = column } }
    for key, value in pairs(more or {}) do params[key] = value end
    local answer = client.request_sync(method, params, 10000, buffer)
    return answer and answer.result
  end
  local function line_of(text)
    for number, line in ipairs(vim.api.nvim_buf_get_lines(buffer, 0, -1, true)) do
      if line:find(text, 1, true) then return number - 1, line end
    end
  end

  local length = line_of('length: 95 mm')
  vim.api.nvim_buf_set_text(buffer, length, 10, length, 15, { '95 g' })
  tried('a wrong unit is underlined as it is typed', shown(1))
  local wrong = vim.diagnostic.get(buffer)[1] or {}
  tried('where it stands', wrong.lnum == length and wrong.col == 10)
  tried('with its rule and its hint',
        (wrong.message or ''):find('a length is due', 1, true) ~= nil)
  vim.api.nvim_buf_set_text(buffer, length, 10, length, 14, { '95 mm' })
  tried('and free again when it is mended', shown(0))

  -- Characters of two and four bytes before the place: the protocol counts UTF-16.
  local name, text = line_of('name: Grebe 95')
  vim.api.nvim_buf_set_text(buffer, name, #text, name, #text, { ' \240\159\144\159\195\169', 'odd: 1' })
  tried('a key that is not known is found behind them', shown(1))
  tried('on its own line', (vim.diagnostic.get(buffer)[1] or {}).lnum == name + 1)
  vim.api.nvim_buf_set_lines(buffer, name, name + 2, true, { text })
  tried('and gone with it', shown(0))

  local hover = ask('textDocument/hover', length, 4)
  tried('hover tells what a key is',
        hover and hover.contents.value:find('nose to tail', 1, true) ~= nil)
  local offers = ask('textDocument/completion', length + 1, 2)
  local items = vim.lsp.util.text_document_completion_list_to_complete_items(offers, '')
  tried('completion offers keys of the part', #items > 0 and items[1].word ~= nil)
  local hints = ask('textDocument/inlayHint', 0, 0,
                    { range = { start = { line = 0, character = 0 },
                                ['end'] = { line = 999, character = 0 } } })
  tried('hints stand beside the parts', hints and #hints >= 4)
  local symbols = ask('textDocument/documentSymbol', 0, 0)
  tried('the outline lists them',
        #vim.lsp.util.symbols_to_items(symbols or {}, buffer) > 20)
  local after = table.concat(vim.api.nvim_buf_get_lines(buffer, 0, -1, true), '\n')
  tried('the text is as it was', after == before)

  vim.cmd('edit! grebe-dusk.yaml')
  local variant = vim.api.nvim_get_current_buf()
  vim.lsp.buf_attach_client(variant, id)
  buffer = variant
  local base = line_of('base: ')
  local place = ask('textDocument/definition', base, 8)
  tried('a base is gone to', place and vim.uri_to_fname(place.uri):match('grebe%.yaml$') ~= nil)

  client.stop()
  tried('it ends when it is told to', vim.wait(10000, function() return client.is_stopped() end, 10))
  tried('all of it was tried', true)
end

local fine, complaint = pcall(main)
if not fine then out:write('- ' .. tostring(complaint) .. '\n') end
out:close()
vim.cmd('qall!')
