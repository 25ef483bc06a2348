#!/bin/zsh -f
# completion.zsh SCRIPT LINE: prints what the tab key makes of a line, in an interactive zsh.
zmodload zsh/zpty
zpty -b shell zsh -f -i
zpty -w shell "PS1= PROMPT=; autoload -Uz compinit; compinit -u -D; source ${(q)1}"
zpty -w shell 'show() { print -r -- "<$BUFFER>" }; zle -N show; bindkey "^X" show'
zpty -w -n shell $2$'\t\C-x'
# Some time for a slow machine, and no longer than it takes.
said= ended=$((SECONDS + 20))
while ((SECONDS < ended)) && [[ $said != *'<'$2*'>'* ]]; do
    zpty -r -t shell part && said+=$part || sleep 0.05
done
zpty -d shell
print -r -- "${${said##*<}%%>*}"
