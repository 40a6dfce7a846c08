"""Completion scripts for shells: static text, so that Tab never starts the program."""

from __future__ import annotations

_COMMANDS = "ask replay notebook completion"
_NOTEBOOK = "where list export import backup check forget"
_OPTIONS = "--json --independent --save --plain --color --units --notebook --live --update --csv --yes --help --version"

_BASH = f"""\
_mincewise() {{
    local word=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}} replies=
    case $before in
        --color) replies="auto always never" ;;
        --units) replies="us metric" ;;
        notebook) replies="{_NOTEBOOK}" ;;
        completion) replies="bash zsh fish" ;;
        --notebook|--save|replay|export|import|backup) COMPREPLY=($(compgen -f -- "$word")); return ;;
        *) [ "$COMP_CWORD" -eq 1 ] && replies="{_COMMANDS}" ;;
    esac
    [ "${{word#-}}" != "$word" ] && replies="{_OPTIONS}"
    COMPREPLY=($(compgen -W "$replies" -- "$word"))
}}
complete -F _mincewise mincewise
"""

_ZSH = f"""\
#compdef mincewise
_mincewise() {{
    case $words[CURRENT-1] in
        --color) compadd auto always never; return ;;
        --units) compadd us metric; return ;;
        notebook) compadd {_NOTEBOOK}; return ;;
        completion) compadd bash zsh fish; return ;;
        --notebook|--save|replay|export|import|backup) _files; return ;;
    esac
    if [[ $PREFIX == -* ]]; then
        compadd -- {_OPTIONS}
    elif (( CURRENT == 2 )); then
        compadd {_COMMANDS}
    fi
}}
compdef _mincewise mincewise
"""

_FISH = f"""\
complete -c mincewise -f
complete -c mincewise -n __fish_use_subcommand -a "{_COMMANDS}"
complete -c mincewise -n "__fish_seen_subcommand_from notebook" -a "{_NOTEBOOK}"
complete -c mincewise -n "__fish_seen_subcommand_from completion" -a "bash zsh fish"
complete -c mincewise -n "__fish_seen_subcommand_from replay import export backup" -F
complete -c mincewise -n "__fish_seen_subcommand_from ask" -l json -l independent
complete -c mincewise -n "__fish_seen_subcommand_from replay" -l live -l update
complete -c mincewise -n "__fish_seen_subcommand_from notebook" -l csv -l yes
complete -c mincewise -l plain
complete -c mincewise -l color -x -a "auto always never"
complete -c mincewise -l units -x -a "us metric"
complete -c mincewise -l notebook -r -F
complete -c mincewise -n "__fish_seen_subcommand_from ask" -l save -r -F
complete -c mincewise -s h -l help
complete -c mincewise -l version
"""

_SCRIPTS = {"bash": _BASH, "zsh": _ZSH, "fish": _FISH}


def script(shell: str) -> str:
    """The completion script for "bash", "zsh" or "fish"."""
    return _SCRIPTS[shell]
