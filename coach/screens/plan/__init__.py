"""The Plan screen: what is the whole work, in what order, and is the plan sound?"""
