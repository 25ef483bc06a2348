#!/bin/bash
# The server for editors: driven by an outside implementation of JSON-RPC (lsp.py), and by neovim's
# own client (lsp.lua).
. "$(dirname "$0")/shared.sh"
needs nvim /usr/bin/python3
cd "$scratch" || exit 2
mkdir recipes editor && cp "$top"/recipes/*.yaml recipes/ && cp "$top"/recipes/*.yaml editor/

lines() { while read -r mark sentence; do it "$sentence" [ "$mark" = + ]; done <"$1"; }

it "the protocol was spoken to the end" ends 0 /usr/bin/python3 -B "$top/tests/lsp.py" "$program" recipes "$top/tests/golden"
cp printed lines && lines lines
it "to the last thing" grep -qx '+ all of it was tried' lines

cd editor || exit 2
HOME=$scratch timeout 120 nvim --headless --clean -c "luafile $top/tests/lsp.lua" >"$scratch/said" 2>&1 </dev/null
it "neovim ended" [ -s tried ]
lines tried
it "it was driven to the end" grep -qx '+ all of it was tried' tried

# The settings for neovim that the page on editors shows, in a home of their own.
mkdir -p "$scratch/bin" "$scratch/home/.config/nvim" && ln -s "$program" "$scratch/bin/plugwright"
awk '/^```/ { inside = $0 == "```lua"; next } inside' "$top/docs/editors.md" >"$scratch/home/.config/nvim/init.lua"
it "the page on editors has settings for neovim" [ -s "$scratch/home/.config/nvim/init.lua" ]
attaches() { # attaches FILE COUNT: so many clients
    HOME=$scratch/home PATH=$scratch/bin:$PATH XDG_CONFIG_HOME=$scratch/home/.config timeout 60 nvim --headless "$1" \
        -c "lua vim.wait(5000, function() return #vim.lsp.get_active_clients() > 0 end, 10)" \
        -c "lua io.stdout:write('clients: ' .. #vim.lsp.get_active_clients() .. '\\n')" -c 'qall!' \
        >"$scratch/printed" 2>"$scratch/said" </dev/null
    grep -q "clients: $2\$" "$scratch/printed" "$scratch/said"
}
it "with them a recipe is attached" attaches grebe.yaml 1
printf 'other: 1\n' >other.yaml
it "and other YAML is not" attaches other.yaml 0
finish
