"""`say`: a sentence that the program made in English, in the language of the reader."""

from django import template

from config.languages import say

register = template.Library()
register.filter("say", say)
