"""The lessons for a school: JupyterHub started with a course's class list, and what goes between its people.

Accounts, safety, the exchange, the page that shows who is where. Hub, proxy and culler are the libraries' own.
"""
