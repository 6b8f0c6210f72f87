using Microsoft.AspNetCore.Authentication.Cookies;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using ShopFloor.Data;
using ShopFloor.Web.Hosting;
using ShopFloor.Web.Security.Passkeys;
using ShopFloor.Web.Security.SecondSteps;

namespace ShopFloor.Web.Security;

/// <summary>Sign-in, sessions, limits.</summary>
public static class SecuritySetUp
{
    /// <summary>Path of the sign-in page.</summary>
    public const string SignInPath = "/sign-in";

    /// <summary>Path of the page that asks for the second step.</summary>
    public const string CodePath = "/sign-in/code";

    /// <summary>Path of the page on which everybody looks after their own sign-in.</summary>
    public const string OwnPath = "/counter/my-sign-in";

    public static void AddSecurity(this IServiceCollection services, HostSettings settings)
    {
        services.AddIdentity(settings);
        services.AddAuthorization(Policies.Add);
        services.AddCascadingAuthenticationState();
        services.AddScoped<AuthenticationStateProvider, CircuitStampCheck>();
        services.AddScoped<SignIn>();
        services.AddScoped<SignInTries>();
        services.AddScoped<OwnSession>();
        services.AddPasskeys();
        services.AddScoped<HalfSignIn>();
        services.AddScoped<SecondStep>();
        services.AddScoped<OwnSecondStep>();
        services.AddSingleton<SecurityLog>();
        services.AddScoped<EnrolWorker>();
        services.AddScoped<SetUpOwner>();
        services.AddSingleton<SetupCode>();
        services.AddHttpContextAccessor();
        services.AddAntiforgery(o =>
        {
            ShapeCookie(o.Cookie, "shopfloor-form", settings);
            // Our own header says "nobody", which is stricter than the one it would add.
            o.SuppressXFrameOptionsHeader = true;
        });
        services.AddRateLimiter(o => RequestLimits.Set(o, settings));
    }

    private static void AddIdentity(this IServiceCollection services, HostSettings settings)
    {
        services.AddAuthentication(IdentityConstants.ApplicationScheme).AddIdentityCookies();
        services
            .AddIdentityCore<Worker>(Shape)
            .AddRoles<WorkerRole>()
            .AddUserStore<WorkerStore>()
            .AddRoleStore<RoleStore<WorkerRole, ShopContext, Guid>>()
            .AddSignInManager<WorkerSignIn>()
            .AddClaimsPrincipalFactory<WorkerClaims>()
            .AddPasswordValidator<PasswordRule>();
        services.Configure<SecurityStampValidatorOptions>(o => o.ValidationInterval = TimeSpan.FromSeconds(30));
        services.ConfigureApplicationCookie(o => ShapeSession(o, settings));
        // What is under way between two requests of one sign-in; its life is the framework's five minutes.
        services.Configure<CookieAuthenticationOptions>(
            IdentityConstants.TwoFactorUserIdScheme,
            o => ShapeCookie(o.Cookie, "shopfloor-underway", settings)
        );
    }

    private static void Shape(IdentityOptions o)
    {
        o.Password.RequiredLength = PasswordRule.Least;
        o.Password.RequireDigit = false;
        o.Password.RequireLowercase = false;
        o.Password.RequireUppercase = false;
        o.Password.RequireNonAlphanumeric = false;
        o.Password.RequiredUniqueChars = 1;
        o.Lockout.MaxFailedAccessAttempts = 5;
        o.Lockout.DefaultLockoutTimeSpan = TimeSpan.FromMinutes(5);
        // Names of people in any script, with spaces.
        o.User.AllowedUserNameCharacters = null!;
    }

    private static void ShapeSession(CookieAuthenticationOptions o, HostSettings settings)
    {
        ShapeCookie(o.Cookie, "shopfloor", settings);
        o.LoginPath = SignInPath;
        o.ReturnUrlParameter = "to";
        o.ExpireTimeSpan = TimeSpan.FromDays(30);
        o.SlidingExpiration = true;
        SessionEnd.Keep(o.Events);
        o.Events.OnRedirectToAccessDenied = context =>
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            return Task.CompletedTask;
        };
        var toSignIn = o.Events.OnRedirectToLogin;
        o.Events.OnRedirectToLogin = context =>
        {
            if (PageRequest.IsWanted(context.Request))
                return toSignIn(context);
            context.Response.StatusCode = StatusCodes.Status401Unauthorized;
            return Task.CompletedTask;
        };
    }

    private static void ShapeCookie(CookieBuilder cookie, string name, HostSettings settings)
    {
        // The prefix makes the browser insist on https and on this very host.
        cookie.Name = settings.Https ? $"__Host-{name}" : name;
        cookie.SecurePolicy = settings.Https ? CookieSecurePolicy.Always : CookieSecurePolicy.SameAsRequest;
        cookie.HttpOnly = true;
        cookie.SameSite = SameSiteMode.Lax;
        cookie.Path = "/";
    }
}
